#pragma once

#include "linkmargin/report/document/document.hpp"

#include <string>

namespace linkmargin {

/// For what kind of terminal a text is written.
struct TextStyle {
  int width = 100;      ///< columns; at least kMinTextWidth are used
  bool colour = false;  ///< ANSI colour beside the marks and words, which say everything without it
  bool ascii = false;   ///< plain_ascii()
};

inline constexpr int kMinTextWidth = 40;

/// A document for a terminal: words wrapped, numbers aligned, the texts of columns that shrink shortened by
/// an ellipsis.
std::string write_text(const Document& document, const TextStyle& style = {});

}  // namespace linkmargin
