linkmargin_test(geometry/point_test.cpp)
linkmargin_test(geometry/segment_test.cpp)
linkmargin_test(geometry/polygon_test.cpp)
linkmargin_test(geometry/wall_eights_test.cpp)
linkmargin_test(geometry/wall_index_test.cpp)
linkmargin_test(geometry/shadow_test.cpp)
linkmargin_test(geometry/region_grid_test.cpp)
# The seeded offices serve tests and benchmarks.
target_include_directories(geometry.wall_index PRIVATE ${PROJECT_SOURCE_DIR}/benchmarks)
