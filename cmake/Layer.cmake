# combwright_layer(NAME SOURCES a.cpp ... [LAYERS base music ...] [LIBRARIES pkg ...])
# One folder of src/ as a static library that sees only the layers it names: a link
# to a layer below is an error here before it is a habit.
function(combwright_layer name)
  cmake_parse_arguments(ARG "" "" "SOURCES;LAYERS;LIBRARIES" ${ARGN})
  add_library(combwright_${name} STATIC ${ARG_SOURCES})
  target_include_directories(combwright_${name} PUBLIC $<BUILD_INTERFACE:${PROJECT_SOURCE_DIR}/src>)
  list(TRANSFORM ARG_LAYERS PREPEND combwright_)
  target_link_libraries(combwright_${name} PUBLIC ${ARG_LAYERS} PRIVATE combwright_flags ${ARG_LIBRARIES})
  target_compile_features(combwright_${name} PUBLIC cxx_std_23)
endfunction()

# combwright_when_sanitized(NAME OPTION): how the layer is compiled under the sanitizers, where what
# suits the others takes too long to compile or to run.
function(combwright_when_sanitized name option)
  if(COMBWRIGHT_SANITIZE AND NOT COMBWRIGHT_LIBFUZZER)
    target_compile_options(combwright_${name} PRIVATE ${option})
  endif()
endfunction()

# combwright_test(NAME SOURCES a_test.cpp ... LAYERS ... [LIBRARIES ...])
# One test program a layer; each of its tests is a ctest test.
function(combwright_test name)
  if(NOT COMBWRIGHT_UNIT_TESTS)
    return()
  endif()
  cmake_parse_arguments(ARG "" "" "SOURCES;LAYERS;LIBRARIES" ${ARGN})
  add_executable(test_${name} ${ARG_SOURCES})
  if(COMBWRIGHT_SANITIZE)
    target_compile_options(test_${name} PRIVATE -O0)  # takes longer to compile than to run
  endif()
  list(TRANSFORM ARG_LAYERS PREPEND combwright_)
  target_include_directories(test_${name} PRIVATE ${PROJECT_SOURCE_DIR}/tests)
  target_link_libraries(test_${name} PRIVATE combwright_flags ${ARG_LAYERS} ${ARG_LIBRARIES} GTest::gmock GTest::gtest_main)
  target_compile_definitions(test_${name} PRIVATE
    COMBWRIGHT_SOURCE_DIR="${PROJECT_SOURCE_DIR}" COMBWRIGHT_CORPUS_DIR="${PROJECT_SOURCE_DIR}/build/corpus")
  gtest_discover_tests(test_${name} TEST_PREFIX "${name}." DISCOVERY_TIMEOUT 60)
endfunction()
