if(LINKMARGIN_UNIT_TESTS)
  find_package(Boost 1.74 REQUIRED COMPONENTS program_options)
  linkmargin_tests(cli)
  target_sources(cli_tests PRIVATE ${PROJECT_SOURCE_DIR}/cli/support/arguments.cpp ${PROJECT_SOURCE_DIR}/cli/support/input.cpp
    ${PROJECT_SOURCE_DIR}/cli/support/files_read.cpp)
  target_include_directories(cli_tests PRIVATE ${PROJECT_SOURCE_DIR}/cli)
  target_link_libraries(cli_tests PRIVATE Boost::program_options)
endif()
# Files of rows after kills, power cuts, a full disk and in shards. Debian's own interpreter: nothing but what comes with it.
add_test(NAME cli.what_if_rows COMMAND /usr/bin/python3 ${CMAKE_CURRENT_LIST_DIR}/what_if_rows.py
  $<TARGET_FILE:linkmargin_program> ${PROJECT_SOURCE_DIR}/data ${CMAKE_CURRENT_BINARY_DIR}/what_if_rows)
# Outputs over inputs, links, several together, endings, terminals; parts of rows that were damaged; styles of CSV; threads and
# memory that run short.
# Pictures by the module that draws them, and without it.
set(module "")
if(TARGET linkmargin_pictures)
  set(module $<TARGET_FILE:linkmargin_pictures>)
endif()
# Sanitizers take threads and memory of their own: shortage is tried without them. They load modules in the program's
# place, which then does not look beside itself: so are pictures.
set(whats output_files row_parts watch csv_styles)
if(NOT LINKMARGIN_SANITIZE)
  list(APPEND whats pictures shortage)
endif()
foreach(what IN LISTS whats)
  add_test(NAME cli.${what} COMMAND /usr/bin/python3 ${CMAKE_CURRENT_LIST_DIR}/${what}.py
    $<TARGET_FILE:linkmargin_program> ${PROJECT_SOURCE_DIR}/data ${CMAKE_CURRENT_BINARY_DIR}/${what} ${module})
endforeach()
# The report as a PDF; needs poppler-utils, and is skipped where it is not installed.
if(TARGET linkmargin_pictures AND NOT LINKMARGIN_SANITIZE)
  add_test(NAME cli.paper COMMAND /usr/bin/python3 ${CMAKE_CURRENT_LIST_DIR}/paper.py
    $<TARGET_FILE:linkmargin_program> ${PROJECT_SOURCE_DIR}/data ${CMAKE_CURRENT_BINARY_DIR}/paper ${module})
  set_tests_properties(cli.paper PROPERTIES SKIP_RETURN_CODE 77)
endif()
# Manual pages (their form where mandoc is installed), completion by real shells, the examples of every help, and the pages that
# show commands with their answers.
foreach(what manual_pages option_tables completion examples pages)
  set(more "")
  if(what STREQUAL completion)
    set(more ${PROJECT_SOURCE_DIR}/cli/completion)
  elseif(NOT LINKMARGIN_SANITIZE)
    set(more ${module})
  endif()
  add_test(NAME cli.${what} COMMAND /usr/bin/python3 ${CMAKE_CURRENT_LIST_DIR}/${what}.py
    $<TARGET_FILE:linkmargin_program> ${PROJECT_SOURCE_DIR}/data ${CMAKE_CURRENT_BINARY_DIR}/${what} ${more})
endforeach()
set_tests_properties(cli.manual_pages PROPERTIES SKIP_RETURN_CODE 77)
# Drawings of others traced; those of every version need python3-ezdxf, and are skipped where it is not installed.
foreach(what styles versions)
  add_test(NAME cli.trace_${what} COMMAND /usr/bin/python3 ${CMAKE_CURRENT_LIST_DIR}/trace_drawings.py
    $<TARGET_FILE:linkmargin_program> ${PROJECT_SOURCE_DIR}/data ${CMAKE_CURRENT_BINARY_DIR}/trace_${what} ${what})
  set_tests_properties(cli.trace_${what} PROPERTIES SKIP_RETURN_CODE 77)
endforeach()
# The recipes of docs/examples on GNU Parallel and on a Slurm of one node, on request (-DLINKMARGIN_CLUSTER=ON, as root).
if(LINKMARGIN_CLUSTER)
  foreach(engine parallel slurm)
    add_test(NAME cli.what_if_${engine} COMMAND sh ${CMAKE_CURRENT_LIST_DIR}/what_if_cluster.sh
      $<TARGET_FILE:linkmargin_program> ${PROJECT_SOURCE_DIR} ${CMAKE_CURRENT_BINARY_DIR}/what_if_${engine} ${engine})
  endforeach()
endif()
