#include "linkmargin/base/nearest_name.hpp"

#include "linkmargin/base/letter_case.hpp"

#include <algorithm>
#include <array>

namespace linkmargin {
namespace {

constexpr std::size_t kLongest = 200;

/// Optimal string alignment distance: insertions, deletions, substitutions and swaps of neighbours; `enough`
/// or more where it is not less than that. Both texts have at most kLongest bytes.
std::size_t edit_distance(std::string_view left, std::string_view right, std::size_t enough) {
  const std::size_t longer = std::max(left.size(), right.size());
  if (longer - std::min(left.size(), right.size()) >= enough) return enough;
  std::array<std::size_t, kLongest + 1> before{}, last{}, row{};
  for (std::size_t j = 0; j <= right.size(); ++j) last[j] = j;
  for (std::size_t i = 1; i <= left.size(); ++i) {
    row[0] = i;
    std::size_t least = i;
    for (std::size_t j = 1; j <= right.size(); ++j) {
      const bool same = lower_case(left[i - 1]) == lower_case(right[j - 1]);
      row[j] = std::min({last[j] + 1, row[j - 1] + 1, last[j - 1] + (same ? 0U : 1U)});
      const bool swapped = i > 1 && j > 1 && lower_case(left[i - 1]) == lower_case(right[j - 2]) &&
                           lower_case(left[i - 2]) == lower_case(right[j - 1]);
      if (swapped) row[j] = std::min(row[j], before[j - 2] + 1);
      least = std::min(least, row[j]);
    }
    if (least >= enough) return enough;  // and no less by a swap with the row before
    before.swap(last);
    last.swap(row);
  }
  return last[right.size()];
}

}  // namespace

std::optional<std::string> nearest_name(std::string_view written, std::span<const std::string> known) {
  if (written.empty() || written.size() > kLongest) return {};
  std::optional<std::string> best;
  std::size_t best_distance = std::min<std::size_t>(4, (written.size() + 2) / 3) + 1;
  for (const std::string& name : known) {
    if (name.size() > kLongest) continue;
    const std::size_t distance = edit_distance(written, name, best_distance);
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
