# cmake -S . -B build -C .cmake/release.cmake
set(CMAKE_BUILD_TYPE Release CACHE STRING "")
