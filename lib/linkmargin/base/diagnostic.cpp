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

std::optional<std::vector<std::string>> pointer_names(std::string_view pointer) {
  std::vector<std::string> names;
  if (pointer.empty()) return names;
  if (pointer.front() != '/') return {};
  for (std::size_t i = 0; i < pointer.size(); ++i) {
    if (pointer[i] == '/') {
      names.emplace_back();
    } else if (pointer[i] != '~') {
      names.back() += pointer[i];
    } else {
      const char escape = ++i < pointer.size() ? pointer[i] : '\0';
      if (escape != '0' && escape != '1') return {};
      names.back() += escape == '0' ? '~' : '/';
    }
  }
  return names;
}

}  // namespace linkmargin
