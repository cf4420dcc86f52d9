# cmake -S . -B build/fuzz -C .cmake/fuzz.cmake : clang, libFuzzer, sanitizers
set(CMAKE_C_COMPILER clang CACHE STRING "")
set(CMAKE_BUILD_TYPE RelWithDebInfo CACHE STRING "")
set(DRAWTUBE_SANITIZE ON CACHE BOOL "")
set(DRAWTUBE_FUZZ ON CACHE BOOL "")
set(DRAWTUBE_STRICT ON CACHE BOOL "")
