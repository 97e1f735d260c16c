#include "linkmargin/report/words/coverage_words.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/report/words/nearby_words.hpp"
#include "linkmargin/report/words/phrases.hpp"

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

std::string value_phrase(const CoverageMap& map, CoverageValue value) {
  switch (value) {
    case CoverageValue::reading:
      return "predicted reading";
    case CoverageValue::level:
      return "predicted level";
    case CoverageValue::margin:
      return "predicted margin over the receiver's sensitivity";
    case CoverageValue::loss:
      return "predicted path loss";
    case CoverageValue::chance:
      return "chance that the reading on site reaches " + shortest_text(map.reading.weak_below_percent) +
             " %";
  }
  return {};
}

std::string nearby_phrase(const CoverageMap& map, CoverageValue value) {
  std::string text = nearby_phrase(map.nearby_readings);
  const bool shown = value == CoverageValue::loss && !text.empty();
  return shown ? text + " The path loss is the plan's everywhere; what is weak is not." : text;
}

std::string hubs_phrase(const CoverageMap& map) {
  std::vector<std::string> names;
  for (const CoverageHub& hub : map.hubs) names.push_back(quoted_name(hub.name));
  return (names.size() == 1 ? "hub " : "best of the hubs ") + listed(names, kNamesInPhrase);
}

std::string scale_hint(const CoverageMap& map, CoverageValue value) {
  if (value != CoverageValue::reading || map.size() == 0) return {};
  for (const double end : {0.0, 100.0}) {
    bool all = true;
    for (std::size_t cell = 0; all && cell < map.size(); ++cell) {
      all = known_value(map, cell, value) == end;
    }
    if (all) return "The whole map reads " + shortest_text(end) + " %, where the scale ends.";
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

}  // namespace linkmargin
