# Compiler flags of our own code, carried by one target.
add_library(combwright_flags INTERFACE)
target_compile_features(combwright_flags INTERFACE cxx_std_23)
target_compile_options(combwright_flags INTERFACE
  -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wno-sign-conversion -Wnon-virtual-dtor
  -Wno-missing-field-initializers  # members have defaults; designated initialisers lean on them
  -Wold-style-cast -Wcast-qual -Wformat=2 -Werror
  # The same digits on every machine: never fuse a multiply with an add.
  -ffp-contract=off)
# g++ 12 warns without cause of overlapping copies in string concatenation.
target_compile_options(combwright_flags INTERFACE $<$<CXX_COMPILER_ID:GNU>:-Wno-restrict>)
set(CMAKE_CXX_EXTENSIONS OFF)
set(CMAKE_POSITION_INDEPENDENT_CODE ON)
option(COMBWRIGHT_LIBFUZZER "Build the fuzz targets for libFuzzer (needs clang)" OFF)
if(COMBWRIGHT_LIBFUZZER)
  target_compile_options(combwright_flags INTERFACE -fsanitize=fuzzer-no-link)
  target_link_options(combwright_flags INTERFACE -fsanitize=fuzzer-no-link)
endif()
if(COMBWRIGHT_SANITIZE)
  target_compile_options(combwright_flags INTERFACE
    -fsanitize=${COMBWRIGHT_SANITIZE} -fno-sanitize-recover=all -fno-omit-frame-pointer)
  target_link_options(combwright_flags INTERFACE -fsanitize=${COMBWRIGHT_SANITIZE})
endif()
find_program(CCACHE ccache)
if(CCACHE)
  set(CMAKE_CXX_COMPILER_LAUNCHER ${CCACHE})
endif()
