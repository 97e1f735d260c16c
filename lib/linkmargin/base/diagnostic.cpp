#include "linkmargin/base/diagnostic.hpp"

namespace linkmargin {

std::string to_text(const Diagnostic& diagnostic) {
  std::string text;
  if (!diagnostic.file.empty()) text += diagnostic.file + ":";
  if (diagnostic.line > 0) {
    text += std::to_string(diagnostic.line) + ":" + std::to_string(diagnostic.column) + ":";
  }
  if (!text.empty()) text += " ";
  text += diagnostic.message;
  if (!diagnostic.hint.empty()) text += " (" + diagnostic.hint + ")";
  return text;
}

std::string pointer_token(const std::string& name) {
  std::string token;
  for (const char letter : name) {
    if (letter == '~') {
      token += "~0";
    } else if (letter == '/') {
      token += "~1";
    } else {
      token += letter;
    }
  }
  return token;
}

}  // namespace linkmargin
