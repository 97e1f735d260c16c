#include "linkmargin/report/document/known_digits.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/report/document/rounding.hpp"

#include <algorithm>
#include <iterator>

namespace linkmargin {
namespace {

struct Ending {
  std::string_view ending;
  KnownDigits digits;
};

/// The first that fits.
constexpr Ending kEndings[] = {{"_percent", {0}},
                               {"_db", {1}},
                               {"_dbm", {1}},
                               {"_probability", {2, true}},
                               {"_probability_before", {2, true}},
                               {"distance_m", {2}},
                               {"_m", {4}},
                               {"_deg", {1}},
                               {"outage", {4}},
                               {"weight", {2}},
                               {"leverage", {2}}};

}  // namespace

KnownDigits known_digits(std::string_view key) {
  const auto* found =
      std::ranges::find_if(kEndings, [&](const Ending& one) { return key.ends_with(one.ending); });
  return found == std::end(kEndings) ? KnownDigits() : found->digits;
}

std::string known_text(double value, const KnownDigits& digits, std::optional<double> threshold) {
  if (digits.chance)
    return short_text(whole_percent(100 * value, 100 * kSureProbability) / 100, digits.decimals);
  const bool held = digits.decimals == 0 && threshold;
  return short_text(held ? whole_percent(value, *threshold) : value, digits.decimals);
}

std::string short_text(double value, int most_decimals) {
  std::string text = fixed_text(value, most_decimals);
  if (text.find('.') == std::string::npos) return text;
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return text;
}

}  // namespace linkmargin
