#pragma once

#include <string>
#include <string_view>

namespace linkmargin {

/// The letters A to Z as a to z; all other characters stay as they are, whatever the locale.
inline char lower_case(char letter) {
  return letter >= 'A' && letter <= 'Z' ? static_cast<char>(letter - 'A' + 'a') : letter;
}

inline std::string lower_case(std::string_view text) {
  std::string result(text);
  for (char& letter : result) letter = lower_case(letter);
  return result;
}

}  // namespace linkmargin
