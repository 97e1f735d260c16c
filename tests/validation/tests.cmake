# Prints docs/validation.md and the pages below it; a test holds them and their figures to what it prints.
file(GLOB sources CONFIGURE_DEPENDS ${CMAKE_CURRENT_LIST_DIR}/*.cpp)
add_executable(linkmargin_validation ${sources})
linkmargin_as_one(linkmargin_validation 2 ${sources})
target_link_libraries(linkmargin_validation PRIVATE linkmargin_test_settings)
add_test(NAME validation.document
  COMMAND linkmargin_validation --check ${PROJECT_SOURCE_DIR}/docs)
