# Runs one golden case: a folder with `command` (arguments, a line each; @DATA@ and @CASE@ stand for the data folder
# and the case's own), `stdout`, `stderr` and `status`. Every output is compared byte for byte.
# LINKMARGIN_UPDATE_GOLDEN=1 in the environment rewrites the expected files instead.
cmake_minimum_required(VERSION 3.25)

file(READ ${CASE}/command text)
string(REPLACE "@CASE@" "${CASE}" text "${text}")
string(REPLACE "@DATA@" "${DATA}" text "${text}")
string(REGEX REPLACE "\n$" "" text "${text}")
string(REPLACE "\n" ";" arguments "${text}")

set(input "")
if(EXISTS ${CASE}/stdin)
  set(input INPUT_FILE ${CASE}/stdin)
endif()
set(ENV{NO_COLOR} 1)
execute_process(COMMAND ${PROGRAM} ${arguments} ${input}
                OUTPUT_VARIABLE stdout ERROR_VARIABLE stderr RESULT_VARIABLE status)
foreach(stream stdout stderr)
  string(REPLACE "${CASE}/" "" ${stream} "${${stream}}")
  string(REPLACE "${DATA}/" "" ${stream} "${${stream}}")
endforeach()

if(DEFINED ENV{LINKMARGIN_UPDATE_GOLDEN})
  file(WRITE ${CASE}/stdout "${stdout}")
  file(WRITE ${CASE}/stderr "${stderr}")
  file(WRITE ${CASE}/status "${status}\n")
  return()
endif()

foreach(stream stdout stderr)
  file(READ ${CASE}/${stream} expected)
  if(NOT "${${stream}}" STREQUAL "${expected}")
    file(WRITE ${ACTUAL}/${stream} "${${stream}}")
    message(FATAL_ERROR "${stream} differs (status ${status}); compare\n  ${CASE}/${stream}\n  ${ACTUAL}/${stream}\n"
                        "--- expected\n${expected}--- actual\n${${stream}}")
  endif()
endforeach()
file(READ ${CASE}/status expected)
string(STRIP "${expected}" expected)
if(NOT "${status}" STREQUAL "${expected}")
  message(FATAL_ERROR "exit status ${status}, expected ${expected}")
endif()
