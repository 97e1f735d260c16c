# A unity build (LINKMARGIN_UNITY) compiles the sources of a folder as one, those of the folders below it too from a depth on:
# linkmargin_as_one(TARGET DEPTH SOURCE...), 2 being lib/linkmargin. A source with options of its own stays apart.
function(linkmargin_as_one target depth)
  set_target_properties(${target} PROPERTIES UNITY_BUILD ${LINKMARGIN_UNITY} UNITY_BUILD_MODE GROUP)
  foreach(source IN LISTS ARGN)
    cmake_path(RELATIVE_PATH source BASE_DIRECTORY ${PROJECT_SOURCE_DIR} OUTPUT_VARIABLE folder)
    cmake_path(GET folder PARENT_PATH folder)
    string(REPLACE "/" ";" group ${folder})
    list(SUBLIST group 0 ${depth} group)
    list(JOIN group "_" group)
    set_source_files_properties(${source} PROPERTIES UNITY_GROUP ${group})
  endforeach()
endfunction()
