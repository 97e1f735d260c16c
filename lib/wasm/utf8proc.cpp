// The functions of utf8proc that the library calls, on smaller tables
// (unicode_classes.hpp).

#include "unicode_classes.hpp"

#include <algorithm>
#include <cstdlib>
#include <span>
#include <utf8proc.h>
#include <vector>

namespace {

#include "unicode_tables.inc"

const linkmargin::wasm::UnicodeClasses& classes() {
  static const linkmargin::wasm::UnicodeClasses made(kRuns, kBases, kLooks);
  return made;
}

}  // namespace

extern "C" {

utf8proc_category_t utf8proc_category(utf8proc_int32_t point) {
  return static_cast<utf8proc_category_t>(classes().of(point).category);
}

int utf8proc_charwidth(utf8proc_int32_t point) {
  return classes().of(point).width;
}

const utf8proc_property_t* utf8proc_get_property(utf8proc_int32_t point) {
  static utf8proc_property_t property;  // the library looks at `ignorable` alone, and at once
  property.ignorable = classes().of(point).ignorable;
  return &property;
}

utf8proc_ssize_t utf8proc_iterate(const utf8proc_uint8_t* text, utf8proc_ssize_t bytes,
                                  utf8proc_int32_t* point) {
  return linkmargin::wasm::first_character({text, static_cast<std::size_t>(bytes)}, *point);
}

utf8proc_ssize_t utf8proc_decompose_char(utf8proc_int32_t point, utf8proc_int32_t* parts, utf8proc_ssize_t,
                                         utf8proc_option_t, int*) {
  *parts = classes().base(point);
  return 1;
}

utf8proc_ssize_t utf8proc_map_custom(const utf8proc_uint8_t* text, utf8proc_ssize_t bytes,
                                     utf8proc_uint8_t** made, utf8proc_option_t,
                                     utf8proc_custom_func drawn_as, void* data) {
  std::span left(text, static_cast<std::size_t>(bytes));
  std::vector<std::int32_t> look;
  while (!left.empty()) {
    std::int32_t point = 0;
    const auto taken = linkmargin::wasm::first_character(left, point);
    if (taken <= 0) return UTF8PROC_ERROR_INVALIDUTF8;
    classes().look(drawn_as(point, data), look);
    left = left.subspan(static_cast<std::size_t>(taken));
  }
  std::vector<std::uint8_t> encoded;
  for (const std::int32_t point : look) linkmargin::wasm::put_utf8(point, encoded);
  *made = static_cast<utf8proc_uint8_t*>(std::malloc(encoded.size() + 1));
  if (*made == nullptr) return UTF8PROC_ERROR_NOMEM;
  std::ranges::copy(encoded, *made);
  (*made)[encoded.size()] = 0;
  return static_cast<utf8proc_ssize_t>(encoded.size());
}

}  // extern "C"
