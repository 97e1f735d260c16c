# Debian packages: cpack in the build folder writes linkmargin (program, pages, completion, documents) and liblinkmargin-dev
# (library, headers). packaging/try does that and tries them.
set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME linkmargin)
set(CPACK_PACKAGE_VERSION ${PROJECT_VERSION}-1)
set(CPACK_PACKAGE_CONTACT "The linkmargin authors <linkmargin@example.org>")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_PACKAGE_DIRECTORY ${PROJECT_BINARY_DIR}/packages)
set(CPACK_STRIP_FILES ON)
set(CPACK_COMPONENTS_ALL program development)
set(CPACK_INSTALL_DEFAULT_DIRECTORY_PERMISSIONS OWNER_READ OWNER_WRITE OWNER_EXECUTE GROUP_READ GROUP_EXECUTE WORLD_READ WORLD_EXECUTE)
set(CPACK_PRE_BUILD_SCRIPTS ${PROJECT_SOURCE_DIR}/packaging/compress.cmake)
set(CPACK_DEB_COMPONENT_INSTALL ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_PACKAGE_CONTROL_STRICT_PERMISSION ON)

set(CPACK_DEBIAN_PROGRAM_PACKAGE_NAME linkmargin)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_SECTION utils)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_RECOMMENDS fonts-dejavu-core)
set(CPACK_DEBIAN_PROGRAM_DESCRIPTION "From the rooms, walls, doors and devices of a site file linkmargin predicts
what the hub will receive of every device: the loss of each wall, the margin,
the reading in percent, and the chance that it reaches the threshold. It says
which devices are weak, why, and what to try. The reading on site decides.")

set(CPACK_DEBIAN_DEVELOPMENT_PACKAGE_NAME liblinkmargin-dev)
set(CPACK_DEBIAN_DEVELOPMENT_PACKAGE_SECTION libdevel)
set(CPACK_DEBIAN_DEVELOPMENT_PACKAGE_SHLIBDEPS OFF)
set(CPACK_DEBIAN_DEVELOPMENT_PACKAGE_DEPENDS "libyaml-cpp-dev, libutf8proc-dev")
set(CPACK_DEBIAN_DEVELOPMENT_DESCRIPTION "The C++20 library behind linkmargin: headers, a static library, and what CMake
and pkg-config need to find it.")
include(CPack)
