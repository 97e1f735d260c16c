#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

/// What the library asks of utf8proc, in 15 KB instead of 330: of every character its class, its width and
/// the letter that a mark stands on. pack_unicode writes the bytes from utf8proc's own tables.
namespace linkmargin::wasm {

constexpr std::int32_t kPoints = 0x110000;

struct CharacterClass {
  std::uint8_t category = 0;
  std::uint8_t width = 1;
  bool ignorable = false;
  friend bool operator==(const CharacterClass&, const CharacterClass&) = default;
};

constexpr std::uint8_t class_byte(CharacterClass one) {
  return static_cast<std::uint8_t>(one.category | one.width << 5 | (one.ignorable ? 0x80 : 0));
}

/// Seven bits a byte, the lowest first.
inline void put_number(std::vector<std::uint8_t>& bytes, std::uint32_t value) {
  for (; value >= 0x80; value >>= 7) bytes.push_back(static_cast<std::uint8_t>(value | 0x80));
  bytes.push_back(static_cast<std::uint8_t>(value));
}

/// Numbers of either sign as numbers of none.
constexpr std::uint32_t folded(std::int32_t value) {
  return static_cast<std::uint32_t>(value < 0 ? -2 * value - 1 : 2 * value);
}

constexpr std::int32_t unfolded(std::uint32_t value) {
  const auto half = static_cast<std::int32_t>(value / 2);
  return value % 2 == 0 ? half : -half - 1;
}

inline std::uint32_t take_number(std::span<const std::uint8_t>& bytes) {
  std::uint32_t value = 0;
  for (unsigned shift = 0;; shift += 7) {
    const std::uint8_t byte = bytes.front();
    bytes = bytes.subspan(1);
    value |= static_cast<std::uint32_t>(byte & 0x7F) << shift;
    if (byte < 0x80) return value;
  }
}

/// Texts of none, one or more characters that some characters stand for, packed: how far from the last such
/// character, how many it stands for, where the first is from the one behind the last first, each other from
/// the one before.
class CharacterTexts {
 public:
  explicit CharacterTexts(std::span<const std::uint8_t> bytes) {
    std::uint32_t point = 0;
    for (std::int32_t first = -1; !bytes.empty();) {
      point += take_number(bytes);
      points_.push_back(static_cast<std::int32_t>(point));
      begins_.push_back(letters_.size());
      std::int32_t letter = first + 1;
      for (std::uint32_t left = take_number(bytes), all = left; left > 0; --left) {
        letter += unfolded(take_number(bytes));
        if (left == all) first = letter;
        letters_.push_back(letter);
      }
    }
    begins_.push_back(letters_.size());
  }

  static void put(std::vector<std::uint8_t>& bytes, std::int32_t gap, std::span<const std::int32_t> letters,
                  std::int32_t& first) {
    put_number(bytes, static_cast<std::uint32_t>(gap));
    put_number(bytes, static_cast<std::uint32_t>(letters.size()));
    std::int32_t before = first + 1;
    if (!letters.empty()) first = letters.front();
    for (const std::int32_t letter : letters) {
      put_number(bytes, folded(letter - before));
      before = letter;
    }
  }

  /// Nothing where it stands for itself.
  std::optional<std::span<const std::int32_t>> of(std::int32_t point) const {
    const auto found = std::lower_bound(points_.begin(), points_.end(), point);
    if (found == points_.end() || *found != point) return {};
    const auto at = static_cast<std::size_t>(found - points_.begin());
    return std::span(letters_).subspan(begins_[at], begins_[at + 1] - begins_[at]);
  }

 private:
  std::vector<std::int32_t> points_, letters_;
  std::vector<std::size_t> begins_;
};

/// Korean syllables and the parts that they are made of (The Unicode Standard, section 3.12).
struct Syllables {
  static constexpr std::int32_t first = 0xAC00, last = 0xD7A3, lead = 0x1100, vowel = 0x1161, tail = 0x11A7;
};

class UnicodeClasses {
 public:
  /// @param runs   of characters of one class: how many, class_byte()
  /// @param bases  letters with marks: the first character of their canonical decomposition
  /// @param looks  what characters look like: NFKC with case folding, marks taken away; not of marks
  /// themselves
  UnicodeClasses(std::span<const std::uint8_t> runs, std::span<const std::uint8_t> bases,
                 std::span<const std::uint8_t> looks)
      : bases_(bases), looks_(looks) {
    for (std::uint32_t point = 0; !runs.empty();) {
      starts_.push_back(static_cast<std::int32_t>(point));
      point += take_number(runs);
      classes_.push_back(runs.front());
      runs = runs.subspan(1);
    }
  }

  CharacterClass of(std::int32_t point) const {
    if (point < 0 || point >= kPoints) return {};
    const auto run = std::upper_bound(starts_.begin(), starts_.end(), point) - starts_.begin() - 1;
    const std::uint8_t byte = classes_[static_cast<std::size_t>(run)];
    return {static_cast<std::uint8_t>(byte & 0x1F), static_cast<std::uint8_t>(byte >> 5 & 3), byte >= 0x80};
  }

  /// The first character of the canonical decomposition; itself where there is none.
  std::int32_t base(std::int32_t point) const {
    if (is_syllable(point)) return Syllables::lead + (point - Syllables::first) / 588;
    const auto text = bases_.of(point);
    return text ? text->front() : point;
  }

  /// Adds what a character looks like to a text; nothing for one that is ignored or a mark.
  void look(std::int32_t point, std::vector<std::int32_t>& text) const {
    const CharacterClass one = of(point);
    if (!is_syllable(point) && (one.ignorable || is_mark(one.category))) return;
    const auto letters = looks_.of(point);
    if (!letters) return add(point, text);
    for (const std::int32_t letter : *letters) add(letter, text);
  }

  static bool is_mark(std::uint8_t category) { return category >= 6 && category <= 8; }  // Mn, Mc, Me

  static bool is_syllable(std::int32_t point) {
    return point >= Syllables::first && point <= Syllables::last;
  }

 private:
  /// Adds a letter; parts of a syllable come together.
  static void add(std::int32_t letter, std::vector<std::int32_t>& text) {
    if (!text.empty()) {
      std::int32_t& last = text.back();
      const std::int32_t lead = last - Syllables::lead, vowel = letter - Syllables::vowel;
      const std::int32_t tail = letter - Syllables::tail;
      if (lead >= 0 && lead < 19 && vowel >= 0 && vowel < 21) {
        last = Syllables::first + (lead * 21 + vowel) * 28;
        return;
      }
      if (is_syllable(last) && (last - Syllables::first) % 28 == 0 && tail >= 0 && tail < 28) {
        last += tail;
        return;
      }
    }
    text.push_back(letter);
  }

  std::vector<std::int32_t> starts_;
  std::vector<std::uint8_t> classes_;
  CharacterTexts bases_, looks_;
};

/// The first character of a UTF-8 text. @returns its bytes; 0 where there is no text, below 0 where it is
/// none
inline std::ptrdiff_t first_character(std::span<const std::uint8_t> text, std::int32_t& point) {
  constexpr std::ptrdiff_t faulty = -3;
  point = -1;
  if (text.empty()) return 0;
  const std::uint8_t first = text[0];
  if (first < 0x80) {
    point = first;
    return 1;
  }
  const std::size_t bytes = first >= 0xF0 ? 4 : first >= 0xE0 ? 3 : 2;
  if (first < 0xC2 || first > 0xF4 || text.size() < bytes) return faulty;
  std::int32_t value = first & (0xFF >> (bytes + 1));
  for (std::size_t i = 1; i < bytes; ++i) {
    if ((text[i] & 0xC0) != 0x80) return faulty;
    value = value << 6 | (text[i] & 0x3F);
  }
  const std::int32_t least = bytes == 4 ? 0x10000 : bytes == 3 ? 0x800 : 0x80;
  if (value < least || value >= kPoints || (value >= 0xD800 && value < 0xE000)) return faulty;
  point = value;
  return static_cast<std::ptrdiff_t>(bytes);
}

inline void put_utf8(std::int32_t point, std::vector<std::uint8_t>& text) {
  if (point < 0x80) return text.push_back(static_cast<std::uint8_t>(point));
  const int more = point < 0x800 ? 1 : point < 0x10000 ? 2 : 3;
  constexpr std::uint8_t leads[] = {0, 0xC0, 0xE0, 0xF0};
  text.push_back(static_cast<std::uint8_t>(leads[more] | point >> 6 * more));
  for (int i = more - 1; i >= 0; --i)
    text.push_back(static_cast<std::uint8_t>(0x80 | (point >> 6 * i & 0x3F)));
}

}  // namespace linkmargin::wasm
