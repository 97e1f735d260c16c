# Writes a C++ source that holds a text file as embedded::NAME(), declared in base/embedded.hpp:
# cmake -DNAME=materials -DINPUT=materials.yaml -DOUTPUT=out.cpp -P embed.cmake
# The text is cut at line ends into raw string literals of at most `longest` bytes.
set(longest 12000)
set(delimiter "embedded")

file(READ "${INPUT}" text)
string(FIND "${text}" ")${delimiter}\"" clash)
if(NOT clash EQUAL -1)
  message(FATAL_ERROR "${INPUT} holds the end of a raw string literal")
endif()

set(parts "")
string(LENGTH "${text}" left)
while(left GREATER 0)
  string(SUBSTRING "${text}" 0 ${longest} part)
  if(left GREATER longest)
    string(FIND "${part}" "\n" end REVERSE)
    if(end EQUAL -1)
      message(FATAL_ERROR "${INPUT} has a line of more than ${longest} bytes")
    endif()
    math(EXPR end "${end} + 1")
    string(SUBSTRING "${part}" 0 ${end} part)
  endif()
  string(LENGTH "${part}" end)
  string(SUBSTRING "${text}" ${end} -1 text)
  string(LENGTH "${text}" left)
  string(APPEND parts "    R\"${delimiter}(${part})${delimiter}\"sv,\n")
endwhile()

file(WRITE "${OUTPUT}" "#include \"linkmargin/base/embedded.hpp\"

namespace linkmargin::embedded {
namespace {

using std::string_view_literals::operator\"\"sv;  // tells the length without counting

constexpr std::string_view kParts[] = {
${parts}};

}  // namespace

std::span<const std::string_view> ${NAME}() { return kParts; }

}  // namespace linkmargin::embedded
")
