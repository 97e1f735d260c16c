# `cmake --build --preset dev --target tidy`, `... --target format-check`: opt-in, never part of a plain build.
file(GLOB_RECURSE linkmargin_sources CONFIGURE_DEPENDS
     ${PROJECT_SOURCE_DIR}/lib/*.cpp ${PROJECT_SOURCE_DIR}/cli/*.cpp)
file(GLOB_RECURSE linkmargin_all_sources CONFIGURE_DEPENDS
     ${PROJECT_SOURCE_DIR}/lib/*.[ch]pp ${PROJECT_SOURCE_DIR}/cli/*.[ch]pp ${PROJECT_SOURCE_DIR}/tests/*.[ch]pp
     ${PROJECT_SOURCE_DIR}/benchmarks/*.[ch]pp)
find_program(CLANG_TIDY clang-tidy)
if(CLANG_TIDY)
  add_custom_target(tidy COMMAND ${CLANG_TIDY} -p ${PROJECT_BINARY_DIR} --quiet ${linkmargin_sources} VERBATIM)
endif()
find_program(CLANG_FORMAT clang-format)
if(CLANG_FORMAT)
  add_custom_target(format-check COMMAND ${CLANG_FORMAT} --dry-run -Werror ${linkmargin_all_sources} VERBATIM)
  add_custom_target(format COMMAND ${CLANG_FORMAT} -i ${linkmargin_all_sources} VERBATIM)
endif()
