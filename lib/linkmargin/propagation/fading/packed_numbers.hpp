#pragma once

#include <array>
#include <cstddef>
#include <span>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

/// Whole numbers of a smooth grid as printable signs, a sixth of their CSV. Each number is its difference
/// from the plane through its neighbours, which is small; a small difference is one sign, a large one three.
namespace linkmargin::packed_numbers {

/// How far back in the list a number's neighbours stand in both directions of the grid.
using Strides = std::array<std::size_t, 2>;

/// The signs '!' to 'z', the last of which says that two more follow.
inline constexpr int kSigns = 90;
inline constexpr char kFirstSign = '!';
inline constexpr int kLong = kSigns - 1;

/// What the neighbours of the number at `index` say of it; those before the first are 0.
inline int expected(std::span<const int> numbers, std::size_t index, Strides strides) {
  const auto at = [&](std::size_t back) { return index < back ? 0 : numbers[index - back]; };
  return at(strides[0]) + at(strides[1]) - at(strides[0] + strides[1]);
}

/// In lines of about 100 signs.
/// @throws std::invalid_argument where a difference takes more than three signs: beyond -4050 to 4049
inline std::string packed(std::span<const int> numbers, Strides strides) {
  constexpr std::size_t line = 100;
  std::string text;
  std::size_t begin = 0;
  const auto put = [&](int digit) { text += static_cast<char>(kFirstSign + digit); };
  for (std::size_t i = 0; i < numbers.size(); ++i) {
    const int difference = numbers[i] - expected(numbers, i, strides);
    const int folded = difference < 0 ? -2 * difference - 1 : 2 * difference;
    if (folded >= kSigns * kSigns)
      throw std::invalid_argument("number " + std::to_string(i) + " is too far from its neighbours");
    if (folded < kLong) {
      put(folded);
    } else {
      put(kLong);
      put(folded / kSigns);
      put(folded % kSigns);
    }
    if (text.size() - begin < line && i + 1 < numbers.size()) continue;
    text += '\n';
    begin = text.size();
  }
  return text;
}

/// @param parts  of what packed() gave, cut anywhere; ends of lines are skipped
inline std::vector<int> unpacked(std::span<const std::string_view> parts, Strides strides) {
  std::vector<int> numbers;
  int high = 0, awaited = 0;
  for (const std::string_view part : parts) {
    for (const char sign : part) {
      if (sign == '\n') continue;
      int folded = sign - kFirstSign;
      if (awaited == 0 && folded == kLong) {
        awaited = 2;
        continue;
      }
      if (awaited == 2) high = folded;
      if (awaited > 0 && --awaited > 0) continue;
      folded += kSigns * high;
      high = 0;
      const int difference = folded % 2 == 0 ? folded / 2 : -(folded + 1) / 2;
      numbers.push_back(expected(numbers, numbers.size(), strides) + difference);
    }
  }
  return numbers;
}

}  // namespace linkmargin::packed_numbers
