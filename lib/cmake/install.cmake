# find_package(linkmargin) gives linkmargin::linkmargin.
include(CMakePackageConfigHelpers)

install(TARGETS linkmargin EXPORT linkmargin-targets
        ARCHIVE DESTINATION ${CMAKE_INSTALL_LIBDIR}
        LIBRARY DESTINATION ${CMAKE_INSTALL_LIBDIR}
        FILE_SET HEADERS DESTINATION ${CMAKE_INSTALL_INCLUDEDIR})
install(EXPORT linkmargin-targets NAMESPACE linkmargin::
        DESTINATION ${CMAKE_INSTALL_LIBDIR}/cmake/linkmargin)
configure_package_config_file(
  ${CMAKE_CURRENT_LIST_DIR}/linkmargin-config.cmake.in ${PROJECT_BINARY_DIR}/linkmargin-config.cmake
  INSTALL_DESTINATION ${CMAKE_INSTALL_LIBDIR}/cmake/linkmargin)
write_basic_package_version_file(${PROJECT_BINARY_DIR}/linkmargin-config-version.cmake
  COMPATIBILITY SameMinorVersion)
install(FILES ${PROJECT_BINARY_DIR}/linkmargin-config.cmake ${PROJECT_BINARY_DIR}/linkmargin-config-version.cmake
        DESTINATION ${CMAKE_INSTALL_LIBDIR}/cmake/linkmargin)
if(TARGET linkmargin_program)
  install(TARGETS linkmargin_program RUNTIME DESTINATION ${CMAKE_INSTALL_BINDIR})
  # Where the program looks for it, beside its own folder (cli/output/schema_line.cpp).
  install(FILES ${PROJECT_SOURCE_DIR}/docs/site.schema.json DESTINATION ${CMAKE_INSTALL_DATADIR}/linkmargin)
endif()
if(TARGET linkmargin_pictures)
  install(TARGETS linkmargin_pictures LIBRARY DESTINATION ${CMAKE_INSTALL_LIBDIR}/linkmargin)
endif()
install(FILES ${PROJECT_SOURCE_DIR}/LICENSE ${PROJECT_SOURCE_DIR}/README.md
        DESTINATION ${CMAKE_INSTALL_DOCDIR})
