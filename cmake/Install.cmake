# What is installed: the program with its man page and completion, one library made of all layers
# below it with their headers, and what CMake and pkg-config need to find it.
include(CMakePackageConfigHelpers)

set(COMBWRIGHT_LAYERS base music box steel action arrange disc motor sound ear tuner records draw)
set(COMBWRIGHT_CMAKE_DIR ${CMAKE_INSTALL_LIBDIR}/cmake/Combwright)

add_library(combwright STATIC)
target_compile_features(combwright PUBLIC cxx_std_23)
target_include_directories(combwright INTERFACE
  $<INSTALL_INTERFACE:${CMAKE_INSTALL_INCLUDEDIR}/combwright>)
target_link_libraries(combwright PRIVATE
  fmt::fmt OpenSSL::Crypto Threads::Threads PkgConfig::PUGIXML PkgConfig::LIBZIP
  PkgConfig::SNDFILE PkgConfig::CAIRO PkgConfig::PANGO PkgConfig::TOMLPLUSPLUS PkgConfig::HWY
  PkgConfig::SQLITE3)
foreach(layer IN LISTS COMBWRIGHT_LAYERS)
  target_sources(combwright PRIVATE $<TARGET_OBJECTS:combwright_${layer}>)
  install(DIRECTORY ${PROJECT_SOURCE_DIR}/src/${layer}
    DESTINATION ${CMAKE_INSTALL_INCLUDEDIR}/combwright FILES_MATCHING PATTERN "*.h"
    PATTERN "solver" EXCLUDE PATTERN "learning" EXCLUDE PATTERN "inference" EXCLUDE
    PATTERN "engine" EXCLUDE PATTERN "run" EXCLUDE)
endforeach()
set_target_properties(combwright PROPERTIES LINKER_LANGUAGE CXX)

configure_package_config_file(${PROJECT_SOURCE_DIR}/cmake/CombwrightConfig.cmake.in
  ${PROJECT_BINARY_DIR}/CombwrightConfig.cmake INSTALL_DESTINATION ${COMBWRIGHT_CMAKE_DIR})
write_basic_package_version_file(${PROJECT_BINARY_DIR}/CombwrightConfigVersion.cmake
  COMPATIBILITY SameMinorVersion)
# The tree may be moved after it was installed: the way from the .pc file up to the prefix.
file(RELATIVE_PATH COMBWRIGHT_PC_PREFIX /prefix/${CMAKE_INSTALL_LIBDIR}/pkgconfig /prefix)
configure_file(${PROJECT_SOURCE_DIR}/cmake/combwright.pc.in ${PROJECT_BINARY_DIR}/combwright.pc
  @ONLY)

install(TARGETS combwright_program RUNTIME)
install(TARGETS combwright EXPORT combwright ARCHIVE)
install(EXPORT combwright NAMESPACE combwright:: FILE CombwrightTargets.cmake
  DESTINATION ${COMBWRIGHT_CMAKE_DIR})
install(FILES ${PROJECT_BINARY_DIR}/CombwrightConfig.cmake
  ${PROJECT_BINARY_DIR}/CombwrightConfigVersion.cmake DESTINATION ${COMBWRIGHT_CMAKE_DIR})
install(FILES ${PROJECT_BINARY_DIR}/combwright.pc DESTINATION ${CMAKE_INSTALL_LIBDIR}/pkgconfig)
install(FILES ${PROJECT_SOURCE_DIR}/packaging/combwright.1 DESTINATION ${CMAKE_INSTALL_MANDIR}/man1)
install(FILES ${PROJECT_SOURCE_DIR}/packaging/combwright.bash
  DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions RENAME combwright)
install(FILES ${PROJECT_SOURCE_DIR}/README.md ${PROJECT_SOURCE_DIR}/CHANGELOG.md
  ${PROJECT_SOURCE_DIR}/docs/guide.md DESTINATION ${CMAKE_INSTALL_DOCDIR})
install(FILES ${PROJECT_SOURCE_DIR}/LICENSE DESTINATION ${CMAKE_INSTALL_DOCDIR} RENAME copyright)
install(DIRECTORY ${PROJECT_SOURCE_DIR}/examples DESTINATION ${CMAKE_INSTALL_DOCDIR})

include(Package)
