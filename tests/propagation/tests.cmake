
# Writes data/best-spot-table.csv anew; not part of a build: cmake --build DIR --target best_spot_table
add_executable(best_spot_generator EXCLUDE_FROM_ALL propagation/best_spot_generator.cpp)
find_package(Boost 1.74 REQUIRED)
target_link_libraries(best_spot_generator PRIVATE linkmargin_flags Boost::headers)
target_include_directories(best_spot_generator PRIVATE ${PROJECT_SOURCE_DIR}/lib ${CMAKE_SOURCE_DIR}/tests)
add_custom_target(best_spot_table
  COMMAND best_spot_generator ${PROJECT_SOURCE_DIR}/data/best-spot-table.csv VERBATIM)

# Against SciPy, on request: -DLINKMARGIN_SCIPY=ON. Needs python3-scipy of Debian (.ci/install-packages scipy).
if(LINKMARGIN_SCIPY)
  find_program(LINKMARGIN_SCIPY_PYTHON python3 PATHS /usr/bin NO_DEFAULT_PATH REQUIRED)
  add_executable(rician_lines propagation/rician_lines.cpp)
  target_link_libraries(rician_lines PRIVATE linkmargin::linkmargin linkmargin_flags)
  add_test(NAME propagation.rician_scipy
    COMMAND ${LINKMARGIN_SCIPY_PYTHON} ${CMAKE_CURRENT_LIST_DIR}/rician_scipy.py $<TARGET_FILE:rician_lines>)
  add_test(NAME propagation.edges_scipy COMMAND ${LINKMARGIN_SCIPY_PYTHON} ${CMAKE_CURRENT_LIST_DIR}/edges_scipy.py
    ${CMAKE_CURRENT_LIST_DIR}/../published)
endif()
