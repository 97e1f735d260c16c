#include "linkmargin/report/words/coverage_words.hpp"

#include "linkmargin/report/words/nearby_words.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace linkmargin {
namespace {

constexpr std::size_t kNamesInPhrase = 4;

}  // namespace

std::string value_word(CoverageValue value) {
  switch (value) {
    case CoverageValue::reading:
      return "reading";
    case CoverageValue::level:
      return "level";
    case CoverageValue::margin:
      return "margin";
    case CoverageValue::loss:
      return "loss";
    case CoverageValue::chance:
      return "chance";
  }
  return {};
}

std::string value_unit(CoverageValue value) {
  const bool percent = value == CoverageValue::reading || value == CoverageValue::chance;
  return percent ? "%" : value == CoverageValue::level ? "dBm" : "dB";
}

std::string value_phrase(const Wording& wording, const CoverageMap& map, CoverageValue value) {
  return wording.say("coverage.value." + value_word(value), {{"threshold", threshold_text(wording, map)}});
}

std::string threshold_text(const Wording& wording, const CoverageMap& map) {
  return wording.number(map.reading.weak_below_percent);
}

std::string share_text(const Wording& wording, double percent) {
  if (percent <= 0 || percent >= 100) return wording.number(percent, 0);
  return percent < 1 ? "<1" : percent > 99 ? ">99" : wording.number(percent, 0);
}

std::string nearby_phrase(const Wording& wording, const CoverageMap& map, CoverageValue value) {
  const std::string text = nearby_phrase(wording, map.nearby_readings);
  const bool unshifted = value == CoverageValue::loss && !text.empty();
  return unshifted ? text + " " + wording.say("coverage.loss_unshifted") : text;
}

std::string hubs_phrase(const Wording& wording, const CoverageMap& map) {
  std::vector<std::string> names;
  for (const CoverageHub& hub : map.hubs) names.push_back(hub.name);
  return wording.say(names.size() == 1 ? "coverage.hub" : "coverage.best_hub",
                     {{"hubs", wording.names(names, kNamesInPhrase)}});
}

std::string scale_hint(const Wording& wording, const CoverageMap& map, CoverageValue value) {
  if (value != CoverageValue::reading || map.size() == 0) return {};
  for (const double end : {0.0, 100.0}) {
    bool all = true;
    for (std::size_t cell = 0; all && cell < map.size(); ++cell) {
      all = known_value(map, cell, value) == end;
    }
    if (all) return wording.say("coverage.scale_end", {{"percent", wording.number(end)}});
  }
  return {};
}

double known_value(const CoverageMap& map, std::size_t cell, CoverageValue value) {
  return std::isfinite(map.path_loss_db[cell]) ? value_at(map, cell, value)
                                               : std::numeric_limits<double>::quiet_NaN();
}

double shown_value(const CoverageMap& map, std::size_t cell, CoverageValue value) {
  return (value == CoverageValue::chance ? 100 : 1) * known_value(map, cell, value);
}

ValueScale value_scale(const CoverageMap& map, CoverageValue value) {
  if (value == CoverageValue::level) return {map.reading.zero.value, map.reading.full.value};
  if (value != CoverageValue::margin && value != CoverageValue::loss) return {0, 100};
  double least = 0;
  double most = 0;
  bool any = false;
  for (std::size_t cell = 0; cell < map.size(); ++cell) {
    const double v = known_value(map, cell, value);
    if (!std::isfinite(v)) continue;
    least = any ? std::min(least, v) : v;
    most = any ? std::max(most, v) : v;
    any = true;
  }
  most = 10 * std::ceil(most / 10);
  if (value == CoverageValue::margin) return {0, std::max(10.0, most)};
  least = 10 * std::floor(least / 10);
  return {std::max(most, least + 10), least};
}

double threshold_share(const CoverageMap& map, CoverageValue value) {
  const double of_reading = map.reading.weak_below_percent / 100;  // a level's scale is the reading's
  return value == CoverageValue::chance ? kGoodChancePercent / 100 : of_reading;
}

}  // namespace linkmargin
