#include "linkmargin/base/nearest_name.hpp"

#include "linkmargin/base/letter_case.hpp"

#include <algorithm>
#include <array>
#include <set>
#include <string>
#include <vector>

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

/// The words of a name in small letters.
std::set<std::string> words_of(std::string_view name) {
  std::set<std::string> words;
  for (std::size_t from = 0; from < name.size();) {
    const std::size_t end = std::min(name.find(' ', from), name.size());
    if (end > from) words.insert(lower_case(name.substr(from, end - from)));
    from = end + 1;
  }
  return words;
}

/// The known names that have all the words written, or all of whose words are written, and most of them.
std::vector<std::string> names_of_words(std::string_view written, std::span<const std::string> known) {
  if (written.size() > kLongest) return {};
  const std::set<std::string> wanted = words_of(written);
  std::vector<std::string> best;
  std::size_t most = 1;
  for (const std::string& name : known) {
    if (name.size() > kLongest) continue;
    const std::set<std::string> words = words_of(name);
    const auto shared = static_cast<std::size_t>(
        std::ranges::count_if(wanted, [&](const std::string& word) { return words.contains(word); }));
    if (shared < most || shared < std::min(wanted.size(), words.size())) continue;
    if (shared > most) best.clear();
    most = shared;
    best.push_back(name);
  }
  return best;
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
  constexpr std::size_t most = 3;
  std::vector<std::string> near;
  if (const auto one = nearest_name(written, known)) {
    near.push_back(*one);
  } else {
    near = names_of_words(written, known);
  }
  if (near.empty() || near.size() > most) return {};
  std::string text;
  for (std::size_t i = 0; i < near.size(); ++i)
    text += (i == 0 ? "'" : i + 1 == near.size() ? " or '" : ", '") + near[i] + "'";
  return "did you mean " + text + "?";
}

}  // namespace linkmargin
