// pack_unicode OUT: writes utf8proc's tables as unicode_classes.hpp reads them, and holds every character to
// the library before it does.

#include "unicode_classes.hpp"

#include <array>
#include <cstdlib>
#include <exception>
#include <fstream>
#include <iostream>
#include <random>
#include <span>
#include <stdexcept>
#include <string>
#include <utf8proc.h>
#include <utility>
#include <vector>

namespace {

using namespace linkmargin::wasm;
using Bytes = std::vector<std::uint8_t>;

CharacterClass class_of(std::int32_t point) {
  const utf8proc_property_t& property = *utf8proc_get_property(point);
  return {static_cast<std::uint8_t>(utf8proc_category(point)),
          static_cast<std::uint8_t>(utf8proc_charwidth(point)), property.ignorable != 0};
}

std::int32_t base_of(std::int32_t point) {
  utf8proc_int32_t last = 0;
  std::array<utf8proc_int32_t, 8> parts{};
  const auto count = utf8proc_decompose_char(point, parts.data(), parts.size(), UTF8PROC_DECOMPOSE, &last);
  return count > 0 ? parts.front() : point;
}

Bytes packed_runs() {
  Bytes bytes;
  for (std::int32_t point = 0; point < kPoints;) {
    const std::int32_t begin = point;
    const CharacterClass one = class_of(begin);
    while (point < kPoints && class_of(point) == one) ++point;
    put_number(bytes, static_cast<std::uint32_t>(point - begin));
    bytes.push_back(class_byte(one));
  }
  return bytes;
}

Bytes packed_bases() {
  Bytes bytes;
  std::int32_t before = 0, first = -1;
  for (std::int32_t point = 0; point < kPoints; ++point) {
    const std::int32_t base[] = {base_of(point)};
    if (base[0] == point || UnicodeClasses::is_syllable(point)) continue;
    CharacterTexts::put(bytes, point - before, base, first);
    before = point;
  }
  return bytes;
}

constexpr auto kLook = static_cast<utf8proc_option_t>(UTF8PROC_COMPOSE | UTF8PROC_COMPAT | UTF8PROC_CASEFOLD |
                                                      UTF8PROC_STRIPMARK | UTF8PROC_IGNORE);

Bytes packed_looks() {
  Bytes bytes;
  std::int32_t before = 0, first = -1;
  for (std::int32_t point = 0; point < kPoints; ++point) {
    utf8proc_int32_t last = 0;
    std::array<utf8proc_int32_t, 32> parts{};
    const auto count = utf8proc_decompose_char(point, parts.data(), parts.size(), kLook, &last);
    const CharacterClass one = class_of(point);
    if (count < 0 || UnicodeClasses::is_syllable(point) || (count == 1 && parts[0] == point)) continue;
    if (one.ignorable || UnicodeClasses::is_mark(one.category)) continue;
    CharacterTexts::put(bytes, point - before, std::span(parts).first(static_cast<std::size_t>(count)),
                        first);
    before = point;
  }
  return bytes;
}

void hold(const UnicodeClasses& classes) {
  for (std::int32_t point = -2; point < kPoints + 2; ++point) {
    if (!(classes.of(point) == class_of(point)) || classes.base(point) != base_of(point))
      throw std::runtime_error("character " + std::to_string(point) + " differs");
  }
}

/// Every character alone, and texts of any that have something to do with each other: neighbours in the
/// tables.
void hold_looks(const UnicodeClasses& classes) {
  std::mt19937 random(20261201);
  const auto held = [&](std::span<const std::int32_t> points) {
    Bytes text, own;
    std::vector<std::int32_t> look;
    for (const std::int32_t point : points) {
      put_utf8(point, text);
      classes.look(point, look);
    }
    for (const std::int32_t point : look) put_utf8(point, own);
    utf8proc_uint8_t* made = nullptr;
    const auto size = utf8proc_map(text.data(), static_cast<utf8proc_ssize_t>(text.size()), &made, kLook);
    const bool same = size >= 0 && own == Bytes(made, made + size);
    std::free(made);
    if (!same)
      throw std::runtime_error("the look of a text with character " + std::to_string(points[0]) + " differs");
  };
  const auto surrogate = [](std::int32_t point) { return point >= 0xD800 && point < 0xE000; };
  for (std::int32_t point = 1; point < kPoints; ++point) {
    if (!surrogate(point)) held(std::span(&point, 1));
  }
  constexpr std::pair<std::int32_t, std::int32_t> blocks[] = {
      {0x20, 0x250},    {0x300, 0x600},   {0x900, 0xE00},   {0x1100, 0x1200}, {0x1100, 0x11C3},
      {0xAC00, 0xD7A4}, {0x1E00, 0x2100}, {0x3040, 0x3400}, {0xFB00, 0xFFF0}, {0x11000, 0x12000}};
  for (int i = 0; i < 300'000; ++i) {
    std::array<std::int32_t, 6> points{};
    for (std::int32_t& point : points) {
      const auto& [low, high] = blocks[random() % std::size(blocks)];
      point = low + static_cast<std::int32_t>(random() % static_cast<unsigned>(high - low));
    }
    held(points);
  }
}

/// All texts of the first two bytes, with following ones at their edges.
void hold_utf8() {
  constexpr std::uint8_t next[] = {0x00, 0x7F, 0x80, 0x8F, 0x90, 0x9F, 0xA0, 0xBF, 0xC0, 0xFF};
  for (int pair = 0; pair < 0x10000; ++pair) {
    for (const std::uint8_t third : next) {
      for (const std::uint8_t fourth : next) {
        const std::uint8_t text[] = {static_cast<std::uint8_t>(pair >> 8), static_cast<std::uint8_t>(pair),
                                     third, fourth};
        for (std::size_t bytes = 0; bytes <= 4; ++bytes) {
          std::int32_t own = 0, known = 0;
          const auto said = first_character({text, bytes}, own);
          if (said != utf8proc_iterate(text, static_cast<utf8proc_ssize_t>(bytes), &known) || own != known)
            throw std::runtime_error("UTF-8 is read otherwise: " + std::to_string(pair));
        }
      }
    }
  }
}

void write(std::ostream& out, const char* name, const Bytes& bytes) {
  out << "const std::uint8_t " << name << "[] = {";
  for (const std::uint8_t byte : bytes) out << static_cast<int>(byte) << ',';
  out << "};\n";
}

}  // namespace

int main(int argc, char** argv) try {
  if (argc != 2) throw std::runtime_error("pack_unicode takes OUT");
  const Bytes runs = packed_runs(), bases = packed_bases(), looks = packed_looks();
  const UnicodeClasses classes(runs, bases, looks);
  hold(classes);
  hold_looks(classes);
  hold_utf8();
  std::ofstream out(argv[1]);
  write(out, "kRuns", runs);
  write(out, "kBases", bases);
  write(out, "kLooks", looks);
  out.flush();
  if (!out) throw std::runtime_error(std::string("cannot write ") + argv[1]);
  return 0;
} catch (const std::exception& fault) {
  std::cerr << fault.what() << '\n';
  return 1;
}
