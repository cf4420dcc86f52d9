# cmake -S . -B build/checked -C .cmake/checked.cmake : sanitizers on, for the tests
set(CMAKE_BUILD_TYPE RelWithDebInfo CACHE STRING "")
set(DRAWTUBE_SANITIZE ON CACHE BOOL "")
set(DRAWTUBE_STRICT ON CACHE BOOL "")
