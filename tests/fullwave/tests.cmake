# Field solvers run afresh, on request: -DLINKMARGIN_FULLWAVE=ON. Needs python3-meep, python3-matplotlib (which Meep
# imports), python3-numpy and nec2c of Debian (.ci/install-packages fullwave), hence Debian's own interpreter.
find_program(LINKMARGIN_FULLWAVE_PYTHON python3 PATHS /usr/bin NO_DEFAULT_PATH REQUIRED)
find_program(LINKMARGIN_NEC nec2c REQUIRED)
foreach(name slabs dipole doorways)
  add_test(NAME fullwave.${name}
    COMMAND ${LINKMARGIN_FULLWAVE_PYTHON} ${CMAKE_CURRENT_LIST_DIR}/${name}.py $<TARGET_FILE:linkmargin_validation>)
  set_tests_properties(fullwave.${name} PROPERTIES TIMEOUT 900 ENVIRONMENT PYTHONDONTWRITEBYTECODE=1)
endforeach()
