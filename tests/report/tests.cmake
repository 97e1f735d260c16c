
if(TARGET linkmargin_program)
  add_test(NAME report.command_line COMMAND sh ${CMAKE_CURRENT_LIST_DIR}/command_line.sh
           $<TARGET_FILE:linkmargin_program> ${CMAKE_CURRENT_BINARY_DIR}/command_line
           ${PROJECT_SOURCE_DIR}/docs)
endif()
