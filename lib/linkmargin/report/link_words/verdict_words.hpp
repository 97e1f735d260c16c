#pragma once

#include "linkmargin/prediction/link_table.hpp"
#include "linkmargin/report/words/wording.hpp"

#include <cstddef>
#include <string>
#include <vector>

// The verdict on a whole site, the same for every medium. Not installed.
namespace linkmargin {

/// What a verdict is about; names as somebody chose them, each list in the order in which it is said.
struct SiteVerdict {
  std::size_t devices = 0;
  std::vector<std::string> weak{};
  std::vector<std::string> doubtful{};   ///< enough, but with a chance under kSureProbability
  std::vector<std::string> far_lower{};  ///< read far lower than predicted, but enough
  std::vector<std::string> weak_areas{};
  std::vector<std::string> full_hubs{};
  double lowest_chance = 1;   ///< of the doubtful that were not read
  bool walls_counted = true;  ///< one by one

  bool bad() const { return !weak.empty() || !weak_areas.empty() || !full_hubs.empty(); }
};

/// What a terminal's answer starts with: which site, which doors.
std::string site_line(const Wording& wording, const LinkTable& table);

/// What a reader in a hurry must not miss.
std::string verdict_words(const Wording& wording, const SiteVerdict& verdict);

}  // namespace linkmargin
