# The files in data/ against the JSON Schemas in docs/. Needs python3-jsonschema and python3-yaml of Debian, hence
# Debian's own interpreter.
find_program(LINKMARGIN_SYSTEM_PYTHON python3 PATHS /usr/bin NO_DEFAULT_PATH)
set(Python3_FIND_STRATEGY LOCATION)
if(LINKMARGIN_SYSTEM_PYTHON)
  set(Python3_EXECUTABLE ${LINKMARGIN_SYSTEM_PYTHON})
endif()
find_package(Python3 REQUIRED COMPONENTS Interpreter)
add_test(NAME schema.check
  COMMAND Python3::Interpreter -W ignore::DeprecationWarning
          ${CMAKE_CURRENT_LIST_DIR}/check_schema.py ${PROJECT_SOURCE_DIR})
add_test(NAME schema.commands
  COMMAND Python3::Interpreter ${CMAKE_CURRENT_LIST_DIR}/check_commands.py ${PROJECT_SOURCE_DIR})
add_test(NAME schema.languages
  COMMAND Python3::Interpreter -W ignore::DeprecationWarning
          ${CMAKE_CURRENT_LIST_DIR}/check_languages.py ${PROJECT_SOURCE_DIR})

# Prints the tables of docs/site-file.md and the pages below it and the JSON Schemas by the tables of fields; a test holds the files to them.
find_package(nlohmann_json 3.11 REQUIRED)
set(sources ${CMAKE_CURRENT_LIST_DIR}/json_schema.cpp ${CMAKE_CURRENT_LIST_DIR}/json_text.cpp ${CMAKE_CURRENT_LIST_DIR}/key_tables.cpp
  ${CMAKE_CURRENT_LIST_DIR}/main.cpp)
add_executable(linkmargin_schema ${sources})
linkmargin_as_one(linkmargin_schema 2 ${sources})
target_link_libraries(linkmargin_schema PRIVATE linkmargin::linkmargin linkmargin_flags nlohmann_json::nlohmann_json)
target_compile_options(linkmargin_schema PRIVATE $<$<CONFIG:Release>:-O0>)  # templates by the hundred, run once
add_test(NAME schema.fields COMMAND linkmargin_schema --check ${PROJECT_SOURCE_DIR}/docs)

# What the C interface answers, beside what the program does, against the schema of answers.
add_executable(linkmargin_c_answers schema/c_answers.cpp)
target_link_libraries(linkmargin_c_answers PRIVATE linkmargin::linkmargin linkmargin_flags)
add_test(NAME schema.answers
  COMMAND Python3::Interpreter -W ignore::DeprecationWarning ${CMAKE_CURRENT_LIST_DIR}/check_answers.py
          $<TARGET_FILE:linkmargin_program> $<TARGET_FILE:linkmargin_c_answers> ${PROJECT_SOURCE_DIR})
