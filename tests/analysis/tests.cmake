linkmargin_test(analysis/area_cover_test.cpp)
linkmargin_test(analysis/hub_load_test.cpp)
linkmargin_test(analysis/link_table_test.cpp)
linkmargin_test(analysis/worked_example_test.cpp)
