#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace linkmargin {

/// One character of a UTF-8 text.
struct CodePoint {
  char32_t value = 0xFFFD;  ///< the replacement character where the bytes are not UTF-8
  std::size_t bytes = 1;
};

/// The character at a byte position, position < text.size().
CodePoint decode_utf8(std::string_view text, std::size_t position);

/// Columns that a terminal gives one character: 0, 1 or 2.
/// Source: utf8proc's tables of Unicode; of the characters that glibc knows a width of, 99.9 % have the same.
int display_width(char32_t character);

/// Columns that a terminal gives a text.
int display_width(std::string_view text);

/// A letter without its accents, "l" for itself: the first of its canonical decomposition.
char32_t base_letter(char32_t character);

enum class LetterKind { small, capital, other };

/// Small or capital where the script has both; `other` for what is no such letter.
LetterKind letter_kind(char32_t character);

/// The same text with control characters, those that turn the direction of writing, codes that are no
/// characters and bytes that are not UTF-8 replaced by U+FFFD: safe on a terminal and well-formed in a file.
std::string printable(std::string_view text);

/// The same, but ends of lines and tabs stay: for formats that have a way to write them.
std::string printable_lines(std::string_view text);

/// The same text in ASCII, as wide as before: the signs that the program draws become plain ones, other
/// characters question marks.
std::string plain_ascii(std::string_view text);

/// At most `width` columns; what is left out is shown by an ellipsis. @param width >= 1
std::string shortened(std::string_view text, int width);

/// Lines of at most `width` columns, broken between words, but not between a figure and its unit; a longer
/// word is cut. Line breaks in the text are kept.
/// @param width >= 2
std::vector<std::string> wrapped(std::string_view text, int width);

/// The text filled with blanks to `width` columns, on its right or on its left.
std::string padded(std::string_view text, int width, bool right_aligned = false);

}  // namespace linkmargin
