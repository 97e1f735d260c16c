# One test a folder below tests/golden/<command>/.
file(GLOB cases RELATIVE ${CMAKE_CURRENT_LIST_DIR} CONFIGURE_DEPENDS ${CMAKE_CURRENT_LIST_DIR}/*/*/command)
list(LENGTH cases count)
if(count LESS 10)
  message(FATAL_ERROR "only ${count} golden cases found")
endif()
foreach(case IN LISTS cases)
  get_filename_component(case ${case} DIRECTORY)
  string(REPLACE "/" "." name ${case})
  add_test(NAME golden.${name}
    COMMAND ${CMAKE_COMMAND}
      -DPROGRAM=$<TARGET_FILE:linkmargin_program>
      -DCASE=${CMAKE_CURRENT_LIST_DIR}/${case}
      -DDATA=${PROJECT_SOURCE_DIR}/data
      -DACTUAL=${CMAKE_CURRENT_BINARY_DIR}/golden/${case}
      -P ${PROJECT_SOURCE_DIR}/tests/run_golden.cmake)
endforeach()
