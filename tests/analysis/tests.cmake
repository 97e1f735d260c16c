# Against NumPy and SciPy's mixed-integer programs, on request (see propagation/tests.cmake).
if(LINKMARGIN_SCIPY)
  add_test(NAME analysis.posterior_fit_numpy
    COMMAND ${LINKMARGIN_SCIPY_PYTHON} ${CMAKE_CURRENT_LIST_DIR}/calibration/posterior_fit_numpy.py)
  add_test(NAME prediction.shadowing_regression_numpy
    COMMAND ${LINKMARGIN_SCIPY_PYTHON} ${CMAKE_CURRENT_LIST_DIR}/../prediction/uncertainty/shadowing_regression_numpy.py)
  add_executable(placement_lines analysis/placement/placement_lines.cpp)
  target_link_libraries(placement_lines PRIVATE linkmargin::linkmargin linkmargin_flags)
  target_include_directories(placement_lines PRIVATE ${CMAKE_SOURCE_DIR}/tests)
  add_test(NAME analysis.placement_milp COMMAND ${LINKMARGIN_SCIPY_PYTHON}
    ${CMAKE_CURRENT_LIST_DIR}/placement/placement_milp.py $<TARGET_FILE:placement_lines>)
endif()
