linkmargin_test(site/wall_plan_test.cpp)
linkmargin_test(site/validate_building_test.cpp)
linkmargin_test(site/validate_radios_test.cpp)
linkmargin_test(site/cautions_test.cpp)
