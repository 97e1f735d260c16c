#include "claims.hpp"

#include "linkmargin/propagation/fading/shadowing.hpp"

#include "markdown.hpp"

#include <algorithm>
#include <array>
#include <cstddef>

namespace linkmargin::validation {

Choice between(double from_m, double to_m) {
  return [=](const PredictedLink& link) {
    const double m = distance(link.measured.device, link.measured.fixed);
    return m >= from_m && m < to_m;
  };
}

Choice in_sight(bool sight) {
  return [=](const PredictedLink& link) { return link.line_of_sight == sight; };
}

std::string by_class(const std::vector<PredictedLink>& links, double offset_db,
                     const std::vector<Kind>& kinds) {
  std::vector<std::vector<std::string>> rows;
  for (const Kind& kind : kinds) {
    const Score found = score(links, offset_db, kind.chosen);
    rows.push_back({kind.name, std::to_string(found.count), with_sign(found.bias_db, 2),
                    decimals(found.rmse_db, 2), decimals(found.claimed_sigma_db, 2),
                    decimals(found.inside_percent, 1)});
  }
  return table({"links", "count", "mean residual dB", "RMSE dB", "claimed sigma dB", "inside, %"}, rows);
}

std::string promised_chances(const std::vector<PredictedLink>& links, double offset_db) {
  std::vector<double> levels;
  for (const PredictedLink& link : links) levels.push_back(link.measured.level_db);
  std::ranges::sort(levels);
  struct Tenth {
    std::size_t count = 0;
    double promised = 0;
    std::size_t came_true = 0;
  };
  std::array<Tenth, 10> tenths;
  for (std::size_t decile = 1; decile < 10; ++decile) {
    const double needed_db = levels[decile * levels.size() / 10];
    for (const PredictedLink& link : links) {
      const double chance = chance_of_reaching(offset_db - link.path_loss_db, needed_db, link.sigma_db);
      Tenth& tenth = tenths[std::min<std::size_t>(9, static_cast<std::size_t>(10 * chance))];
      ++tenth.count;
      tenth.promised += chance;
      tenth.came_true += link.measured.level_db >= needed_db ? 1 : 0;
    }
  }
  std::vector<std::string> header{"chance promised"}, counts{"links and levels"}, promised{"promised, mean"},
      came_true{"came true"};
  for (std::size_t i = 0; i < tenths.size(); ++i) {
    const Tenth& tenth = tenths[i];
    const auto count = static_cast<double>(std::max<std::size_t>(1, tenth.count));
    header.push_back("0." + std::to_string(i));
    counts.push_back(std::to_string(tenth.count));
    promised.push_back(decimals(tenth.promised / count, 2));
    came_true.push_back(decimals(static_cast<double>(tenth.came_true) / count, 2));
  }
  return table(header, {counts, promised, came_true});
}

}  // namespace linkmargin::validation
