#include "linkmargin/base/nearest_name.hpp"

#include "linkmargin/base/letter_case.hpp"

#include <algorithm>
#include <vector>

namespace linkmargin {
namespace {

/// Optimal string alignment distance: insertions, deletions, substitutions and swaps of neighbours.
std::size_t edit_distance(std::string_view left, std::string_view right) {
  const std::size_t width = right.size() + 1;
  std::vector<std::size_t> before(width), last(width), row(width);
  for (std::size_t j = 0; j < width; ++j) last[j] = j;
  for (std::size_t i = 1; i <= left.size(); ++i) {
    row[0] = i;
    for (std::size_t j = 1; j < width; ++j) {
      const bool same = lower_case(left[i - 1]) == lower_case(right[j - 1]);
      row[j] = std::min({last[j] + 1, row[j - 1] + 1, last[j - 1] + (same ? 0U : 1U)});
      const bool swapped = i > 1 && j > 1 && lower_case(left[i - 1]) == lower_case(right[j - 2]) &&
                           lower_case(left[i - 2]) == lower_case(right[j - 1]);
      if (swapped) row[j] = std::min(row[j], before[j - 2] + 1);
    }
    before.swap(last);
    last.swap(row);
  }
  return last[right.size()];
}

}  // namespace

std::optional<std::string> nearest_name(std::string_view written, std::span<const std::string> known) {
  constexpr std::size_t longest = 200;
  if (written.empty() || written.size() > longest) return {};
  std::optional<std::string> best;
  std::size_t best_distance = std::min<std::size_t>(4, (written.size() + 2) / 3) + 1;
  for (const std::string& name : known) {
    if (name.size() > longest) continue;
    const std::size_t distance = edit_distance(written, name);
    if (distance < best_distance) {
      best_distance = distance;
      best = name;
    }
  }
  return best;
}

std::string nearest_hint(std::string_view written, std::span<const std::string> known) {
  const auto near = nearest_name(written, known);
  return near ? "did you mean '" + *near + "'?" : std::string();
}

}  // namespace linkmargin
