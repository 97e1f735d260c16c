linkmargin_test(report/display_text_test.cpp)
linkmargin_test(report/write_text_test.cpp)
linkmargin_test(report/write_csv_test.cpp)
linkmargin_test(report/check_report_test.cpp)
linkmargin_test(report/explain_report_test.cpp)
linkmargin_test(report/materials_report_test.cpp)
linkmargin_test(report/label_layout_test.cpp)
linkmargin_test(report/floor_plan_test.cpp)
linkmargin_test(report/palette_test.cpp)
linkmargin_test(report/contour_test.cpp)
linkmargin_test(report/raster_test.cpp)
linkmargin_test(report/coverage_map_test.cpp)
linkmargin_test(report/coverage_report_test.cpp)

if(TARGET linkmargin_program)
  add_test(NAME report.command_line COMMAND sh ${CMAKE_CURRENT_LIST_DIR}/command_line.sh
           $<TARGET_FILE:linkmargin_program> ${CMAKE_CURRENT_BINARY_DIR}/command_line
           ${PROJECT_SOURCE_DIR}/docs/commands.md)
endif()
