#pragma once

#include <string>
#include <string_view>

namespace linkmargin {

/// Texts one after the other, a separator between.
template <typename Texts>
std::string joined(const Texts& texts, std::string_view separator = ", ") {
  std::string whole;
  bool first = true;
  for (const auto& text : texts) {
    if (!first) whole += separator;
    whole += text;
    first = false;
  }
  return whole;
}

}  // namespace linkmargin
