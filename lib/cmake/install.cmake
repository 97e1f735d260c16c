# find_package(linkmargin) gives linkmargin::linkmargin; so does pkg-config linkmargin. What developers need and what the program
# needs are components: packages of their own.
include(CMakePackageConfigHelpers)

set(CMAKE_INSTALL_DEFAULT_COMPONENT_NAME development)
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
# A static library leaves its own libraries to whoever links it.
if(BUILD_SHARED_LIBS)
  set(pc_requires Requires.private)
else()
  set(pc_requires Requires)
endif()
file(RELATIVE_PATH pc_prefix /${CMAKE_INSTALL_LIBDIR}/pkgconfig /)
configure_file(${CMAKE_CURRENT_LIST_DIR}/linkmargin.pc.in ${PROJECT_BINARY_DIR}/linkmargin.pc @ONLY)
install(FILES ${PROJECT_BINARY_DIR}/linkmargin.pc DESTINATION ${CMAKE_INSTALL_LIBDIR}/pkgconfig)

set(CMAKE_INSTALL_DEFAULT_COMPONENT_NAME program)
if(TARGET linkmargin_program)
  install(TARGETS linkmargin_program RUNTIME DESTINATION ${CMAKE_INSTALL_BINDIR})
  # Where the program looks for that of sites, beside its own folder (cli/output/schema_line.cpp).
  file(GLOB schemas CONFIGURE_DEPENDS ${PROJECT_SOURCE_DIR}/docs/*.schema.json)
  install(FILES ${schemas} DESTINATION ${CMAKE_INSTALL_DATADIR}/linkmargin)
  get_property(pages GLOBAL PROPERTY LINKMARGIN_MANUAL_PAGES)
  install(FILES ${pages} DESTINATION ${CMAKE_INSTALL_MANDIR}/man1)
  set(completion ${PROJECT_SOURCE_DIR}/cli/completion)
  install(FILES ${completion}/linkmargin.bash DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions RENAME linkmargin)
  install(FILES ${completion}/_linkmargin DESTINATION ${CMAKE_INSTALL_DATADIR}/zsh/site-functions)
  install(FILES ${completion}/linkmargin.fish DESTINATION ${CMAKE_INSTALL_DATADIR}/fish/vendor_completions.d)
endif()
if(TARGET linkmargin_pictures)
  install(TARGETS linkmargin_pictures LIBRARY DESTINATION ${CMAKE_INSTALL_LIBDIR}/linkmargin)
endif()
install(FILES ${PROJECT_SOURCE_DIR}/README.md ${PROJECT_SOURCE_DIR}/CITATION.cff DESTINATION ${CMAKE_INSTALL_DOCDIR})
install(DIRECTORY ${PROJECT_SOURCE_DIR}/docs DESTINATION ${CMAKE_INSTALL_DOCDIR}  # where the links of README lead
        PATTERN *.schema.json EXCLUDE PATTERN Doxyfile EXCLUDE)
install(DIRECTORY ${PROJECT_SOURCE_DIR}/data/sites DESTINATION ${CMAKE_INSTALL_DOCDIR}/data)
install(FILES ${PROJECT_SOURCE_DIR}/LICENSE DESTINATION ${CMAKE_INSTALL_DOCDIR})
# What Debian asks of a package, in packages alone.
foreach(component program development)
  set(folder share/doc/linkmargin)
  if(component STREQUAL development)
    set(folder share/doc/liblinkmargin-dev)
  endif()
  install(FILES ${PROJECT_SOURCE_DIR}/packaging/copyright DESTINATION ${folder} COMPONENT ${component} EXCLUDE_FROM_ALL)
  install(FILES ${PROJECT_SOURCE_DIR}/packaging/changelog DESTINATION ${folder} RENAME changelog.Debian
          COMPONENT ${component} EXCLUDE_FROM_ALL)
endforeach()
