# cmake -S . -B build/coverage -C .cmake/coverage.cmake : counts lines and branches; tests/coverage.sh reads them
set(CMAKE_C_COMPILER gcc CACHE STRING "")
set(CMAKE_BUILD_TYPE Debug CACHE STRING "")
set(CMAKE_C_FLAGS "-O0 --coverage -fprofile-update=single" CACHE STRING "")
set(DRAWTUBE_STRICT ON CACHE BOOL "")
