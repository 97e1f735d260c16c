#include "linkmargin/yaml/what_if/what_if_yaml.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/text/file_limits.hpp"
#include "linkmargin/yaml/tree/document.hpp"
#include "linkmargin/yaml/what_if/case_yaml.hpp"
#include "linkmargin/yaml/what_if/what_if_sweep.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <tuple>
#include <utility>

namespace linkmargin {
namespace yaml {
namespace {

SitePattern read_pattern(const Cursor& cursor, Faults& faults) {
  const auto text = read_text(cursor, faults);
  const bool empty = text && text->empty();
  if (empty) add_fault(cursor, DiagnosticCode::missing_key, "the name of a site file is missing", {}, faults);
  return {text.value_or(""), cursor.mark().line, cursor.mark().column, cursor.pointer()};
}

std::vector<SitePattern> read_patterns(ObjectReader& reader, Faults& faults) {
  reader.exactly_one_of({"site", "sites"});
  std::vector<SitePattern> patterns;
  if (const auto one = reader.find("site")) patterns.push_back(read_pattern(*one, faults));
  const auto many = reader.find("sites");
  if (many && many->node().kind == Node::Kind::scalar) {
    patterns.push_back(read_pattern(*many, faults));
  } else if (many) {
    for_each_item(*many, kWhatIfSites, faults,
                  [&](const Cursor& item) { patterns.push_back(read_pattern(item, faults)); });
  }
  return patterns;
}

std::optional<RandomDraws> read_random(ObjectReader& reader, Faults& faults) {
  const auto random = reader.find("random");
  if (!random) return {};
  ObjectReader draws(*random, "random", faults);
  RandomDraws made{0, kDefaultSeed};
  (void)draws.need("runs");
  made.runs = static_cast<std::uint64_t>(draws.whole_or("runs", kDraws, 1));
  made.seed = static_cast<std::uint64_t>(draws.whole_or("seed", kSeed, static_cast<int>(kDefaultSeed)));
  draws.finish();
  return made;
}

/// A case may put a radio where it is not to be moved to: that is asked, not done.
Site free_to_move(Site site) {
  for (Hub& hub : site.hubs) hub.may_move.reset();
  for (Repeater& repeater : site.repeaters) repeater.may_move.reset();
  for (Device& device : site.devices) device.may_move.reset();
  return site;
}

/// What the file says of one site.
WhatIf read_for(const Cursor& top, const NamedSite& named, Faults& faults) {
  ObjectReader reader(top, "", faults);
  (void)read_patterns(reader, faults);
  WhatIf made{.sites = {{.file = named.file, .site = free_to_move(named.site), .cases = {}}}};
  WhatIfSite& of = made.sites.front();
  std::vector<WhatIfCase> sound{{}};  // the site as it is, then the cases without faults
  if (const auto list = reader.find("cases")) {
    for_each_item(*list, kWhatIfCases, faults, [&](const Cursor& item) {
      const std::size_t before = faults.count();
      of.cases.push_back(read_case(item, of.site, faults));
      if (faults.count() == before) sound.push_back(of.cases.back());
    });
    report_repeated_cases(*list, faults);
  }
  if (const auto sweep = reader.find("sweep")) made.sweep = read_sweep(*sweep, of.site, sound, faults);
  made.draws = read_random(reader, faults);
  if (of.cases.empty() && made.sweep.empty() && !made.draws) reader.missing({"cases", "sweep", "random"});
  reader.finish();
  return made;
}

std::string count_text(double count) {
  constexpr double longest = 1e15;
  return count <= longest ? fixed_text(count, 0) : "over " + fixed_text(longest, 0);
}

/// More runs than can be numbered, told at what most of them come from.
/// @param made  of one of the sites
void check_count(const Node& root, const WhatIf& made, std::size_t sites, Faults& faults) {
  const auto settings = static_cast<double>(made.sites.front().cases.size() + 1);
  const double draws = made.draws ? static_cast<double>(made.draws->runs) + 1 : 1;
  double combinations = 1;
  for (const SweepAxis& axis : made.sweep) combinations *= static_cast<double>(axis.values.size());
  const double runs = static_cast<double>(sites) * settings * combinations * draws;
  const char* key = combinations > draws ? "sweep" : "random";
  const Node* at = find(root, key);
  if (runs <= kWhatIfRuns.max || at == nullptr) return;
  std::string from = std::to_string(sites) + (sites == 1 ? " site" : " sites");
  if (settings > 1) from += " x " + count_text(settings) + " (as it is and its cases)";
  if (combinations > 1) from += " x " + count_text(combinations) + " combinations of swept values";
  if (draws > 1) from += " x " + count_text(draws) + " (the prediction and its draws)";
  faults.add(at->mark, DiagnosticCode::too_large, std::string("/") + key,
             count_text(runs) + " runs in all: at most " + count_text(kWhatIfRuns.max) + " can be made",
             from + ": take fewer of one of them");
}

/// The faults of all sites: what is wrong for each of them once and without a name, else with those it is
/// wrong for.
Diagnostics gathered(const std::vector<std::pair<std::string, Diagnostics>>& by_site) {
  using Key = std::tuple<int, int, std::string, std::string>;
  std::map<Key, std::pair<Diagnostic, std::vector<std::string>>> found;
  for (const auto& [site, faults] : by_site) {
    for (const Diagnostic& fault : faults) {
      if (fault.code == DiagnosticCode::not_listed) continue;
      auto& [kept, sites] = found
                                .try_emplace({fault.line, fault.column, fault.path, fault.message}, fault,
                                             std::vector<std::string>())
                                .first->second;
      if (sites.empty() || sites.back() != site) sites.push_back(site);
    }
  }
  Diagnostics all;
  for (auto& [key, of] : found) {
    auto& [fault, sites] = of;
    if (sites.size() < by_site.size()) {
      fault.message += " (in " + sites.front();
      if (sites.size() > 1) fault.message += " and " + std::to_string(sites.size() - 1) + " more";
      fault.message += ")";
    }
    all.push_back(std::move(fault));
  }
  if (all.size() > kMostFaults ||
      std::ranges::any_of(by_site, [](const auto& site) { return site.second.size() > kMostFaults; })) {
    all.resize(std::min(all.size(), kMostFaults));
    all.push_back({all.front().file, 0, 0, "", "there are more faults than these", "put these right first",
                   DiagnosticCode::not_listed});
  }
  return all;
}

}  // namespace
}  // namespace yaml

Result<std::vector<SitePattern>> parse_what_if_sites(std::string_view text, const std::string& file_name) {
  Faults faults(file_name);
  const auto root = yaml::parse_document(text, faults);
  if (!root) return std::move(faults).sorted();
  const yaml::Cursor top(*root);
  if (const yaml::Node* storeys = yaml::find(*root, "storeys")) {
    faults.add(storeys->mark, DiagnosticCode::unknown_key, "/storeys",
               "this is a site file: a what-if file names it under `site`", "docs/site-file.md, What-if");
    return std::move(faults).sorted();
  }
  yaml::ObjectReader reader(top, "", faults);
  auto patterns = yaml::read_patterns(reader, faults);
  if (!patterns.empty() && faults.empty()) return patterns;  // of the rest parse_what_if() tells
  for (const char* known : {"cases", "sweep", "random"}) (void)reader.find(known);
  reader.finish();
  return std::move(faults).sorted();
}

Result<WhatIf> parse_what_if(std::string_view text, const std::string& file_name,
                             std::span<const NamedSite> sites) {
  Faults whole(file_name);
  const auto root = yaml::parse_document(text, whole);
  if (!root) return std::move(whole).sorted();
  const yaml::Cursor top(*root);
  WhatIf made;
  std::vector<std::pair<std::string, Diagnostics>> found;
  bool sound = true;
  for (const NamedSite& site : sites) {
    Faults faults(file_name);
    WhatIf of_site = yaml::read_for(top, site, faults);
    yaml::check_count(*root, of_site, sites.size(), faults);
    sound = sound && faults.empty();
    found.emplace_back(site.file, std::move(faults).sorted());
    made.sites.push_back(std::move(of_site.sites.front()));
    made.sweep = std::move(of_site.sweep);
    made.draws = of_site.draws;
  }
  if (sound) return made;
  return yaml::gathered(found);
}

}  // namespace linkmargin
