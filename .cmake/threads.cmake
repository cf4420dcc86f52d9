# cmake -S . -B build/threads -C .cmake/threads.cmake : ThreadSanitizer
set(CMAKE_BUILD_TYPE RelWithDebInfo CACHE STRING "")
set(CMAKE_C_FLAGS "-fsanitize=thread" CACHE STRING "")
set(DRAWTUBE_STRICT ON CACHE BOOL "")
