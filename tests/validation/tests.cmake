# Prints docs/validation.md and the pages below it; a test holds them and their figures to what it prints.
add_executable(linkmargin_validation
  validation/ask.cpp validation/building_section.cpp validation/claims.cpp validation/data_set.cpp validation/distance_section.cpp validation/document.cpp validation/doorway_section.cpp
  validation/echo_section.cpp validation/edge_section.cpp validation/figures.cpp validation/flat.cpp validation/floor_section.cpp
  validation/full_wave_section.cpp validation/learning.cpp validation/line_chart.cpp validation/main.cpp validation/markdown.cpp validation/measured_site.cpp
  validation/metal_section.cpp validation/office.cpp validation/open_spaces.cpp validation/prediction.cpp validation/receiver_section.cpp
  validation/slab_section.cpp)
target_link_libraries(linkmargin_validation PRIVATE linkmargin_test_settings)
add_test(NAME validation.document
  COMMAND linkmargin_validation --check ${PROJECT_SOURCE_DIR}/docs)
