# The report page in headless Chromium: `sh .ci/install-packages browser` and `npm ci --prefix tests/browser` first.
find_program(LINKMARGIN_NODE node REQUIRED)
find_program(LINKMARGIN_CHROMIUM chromium REQUIRED)
add_test(NAME browser.report
  COMMAND ${CMAKE_COMMAND} -E env LINKMARGIN=$<TARGET_FILE:linkmargin_program> CHROMIUM=${LINKMARGIN_CHROMIUM}
          ${LINKMARGIN_NODE} --test ${CMAKE_CURRENT_LIST_DIR}/report.test.mjs)
