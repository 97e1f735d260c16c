#include "linkmargin/base/diagnostic.hpp"

#include "linkmargin/base/enum_name.hpp"

#include <algorithm>

namespace linkmargin {
namespace {

using Code = DiagnosticCode;

constexpr EnumName<Code> kCodeWords[] = {{"other", Code::other},
                                         {"unreadable_file", Code::unreadable_file},
                                         {"syntax", Code::syntax},
                                         {"too_large", Code::too_large},
                                         {"unknown_key", Code::unknown_key},
                                         {"missing_key", Code::missing_key},
                                         {"given_twice", Code::given_twice},
                                         {"conflicting_keys", Code::conflicting_keys},
                                         {"wrong_type", Code::wrong_type},
                                         {"outside_range", Code::outside_range},
                                         {"wrong_count", Code::wrong_count},
                                         {"bad_name", Code::bad_name},
                                         {"unknown_name", Code::unknown_name},
                                         {"unknown_word", Code::unknown_word},
                                         {"overlaps", Code::overlaps},
                                         {"misplaced", Code::misplaced},
                                         {"impossible", Code::impossible},
                                         {"unreachable", Code::unreachable},
                                         {"unwritable_edit", Code::unwritable_edit},
                                         {"not_listed", Code::not_listed}};

}  // namespace

std::string_view code_word(DiagnosticCode code) {
  return std::ranges::find(kCodeWords, code, &EnumName<Code>::meaning)->word;
}

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
