// Numbers as text. What libc++ has for it brings 100 KB of tables for speed; the C library's conversion is
// exact as well, and few numbers are written.

#include <algorithm>
#include <charconv>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <string_view>

namespace {

constexpr int kMostDigits = 17;  // that tell any double from its neighbours
constexpr std::size_t kLongest = 400;

/// The text of one number, written by the C library.
struct Text {
  char signs[kLongest];
  std::size_t size;

  template <typename... Given>
  explicit Text(const char* format, Given... given)
      : size(static_cast<std::size_t>(std::snprintf(signs, sizeof signs, format, given...))) {}
};

/// With the fewest digits that read back as the same number, as "1.25e+03"; a digit more of 46 powers of two,
/// all of them far below or above what is written here.
Text shortest(double value) {
  for (int decimals = 0;; ++decimals) {
    const Text text("%.*e", decimals, value);
    if (decimals + 1 == kMostDigits || std::strtod(text.signs, nullptr) == value) return text;
  }
}

/// The same digits without an exponent.
Text shortest_fixed(double value) {
  const Text text = shortest(value);
  const std::string_view whole(text.signs, text.size);
  const std::size_t end = whole.find('e');
  const int exponent = std::atoi(text.signs + end + 1);
  const auto digits =
      static_cast<int>(end) - (whole.front() == '-' ? 1 : 0) - (whole.find('.') < end ? 1 : 0);
  return Text("%.*f", std::max(0, digits - 1 - exponent), value);
}

std::to_chars_result put(char* first, char* last, const Text& text) {
  if (text.size > static_cast<std::size_t>(last - first)) return {last, std::errc::value_too_large};
  std::memcpy(first, text.signs, text.size);
  return {first + text.size, std::errc{}};
}

}  // namespace

// As <charconv> declares them, for the formats that the library asks for.
_LIBCPP_BEGIN_NAMESPACE_STD

to_chars_result to_chars(char* first, char* last, double value) {
  const Text fixed = shortest_fixed(value), scientific = shortest(value);
  return put(first, last, fixed.size <= scientific.size ? fixed : scientific);
}

to_chars_result to_chars(char* first, char* last, double value, chars_format) {
  return put(first, last, shortest_fixed(value));
}

to_chars_result to_chars(char* first, char* last, double value, chars_format, int decimals) {
  return put(first, last, Text("%.*f", decimals, value));
}

_LIBCPP_END_NAMESPACE_STD
