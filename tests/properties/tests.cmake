# The generator of sites: what it makes is held by properties_test.cpp, and printed by its seed.
target_sources(properties_tests PRIVATE properties/random_site.cpp)
add_executable(linkmargin_random_site properties/print_site.cpp properties/random_site.cpp)
target_link_libraries(linkmargin_random_site PRIVATE linkmargin_test_settings)
add_test(NAME properties.answers_agree COMMAND /usr/bin/python3 ${CMAKE_CURRENT_LIST_DIR}/answers_agree.py
  $<TARGET_FILE:linkmargin_program> $<TARGET_FILE:linkmargin_random_site> ${CMAKE_CURRENT_BINARY_DIR}/answers_agree)
