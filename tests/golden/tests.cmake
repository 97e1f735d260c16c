# One test a file below tests/golden/<command>/; see tests/run_golden.py. Python as for the schemas.
file(GLOB cases RELATIVE ${CMAKE_CURRENT_LIST_DIR} CONFIGURE_DEPENDS ${CMAKE_CURRENT_LIST_DIR}/*/*.expected)
list(LENGTH cases count)
if(count LESS 100)
  message(FATAL_ERROR "only ${count} cases of expected output found")
endif()
foreach(case IN LISTS cases)
  string(REGEX REPLACE "^(.*)/(.*)\\.expected$" "\\1.\\2" name ${case})
  add_test(NAME golden.${name}
    COMMAND Python3::Interpreter ${PROJECT_SOURCE_DIR}/tests/run_golden.py
      $<TARGET_FILE:linkmargin_program> ${PROJECT_SOURCE_DIR}/data ${CMAKE_CURRENT_LIST_DIR}/${case})
endforeach()
