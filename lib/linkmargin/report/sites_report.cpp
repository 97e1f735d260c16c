#include "linkmargin/report/sites_report.hpp"

#include "linkmargin/report/check_report.hpp"
#include "linkmargin/report/json/json_values.hpp"
#include "linkmargin/report/words/cautions.hpp"

#include <algorithm>
#include <tuple>
#include <utility>

namespace linkmargin {
namespace {

/// The device that is worst off; null where there is none.
const Link* worst_device(const LinkTable& table) {
  const Link* worst = nullptr;
  const auto rank = [](const Link& link) {
    return std::tuple(-static_cast<int>(link.outcome), link.pass_probability);
  };
  for (const Link& link : table.links) {
    if (link.serving && (worst == nullptr || rank(link) < rank(*worst))) worst = &link;
  }
  return worst;
}

bool needs_work(const LinkTable& table) {
  return !table.weak_devices.empty() || std::ranges::any_of(table.areas, &AreaCover::weak) ||
         std::ranges::any_of(table.hubs, &HubLoad::over_capacity) ||
         std::ranges::any_of(table.repeater_loads, &HubLoad::over_capacity);
}

std::optional<SlotCount> slots_of(const LinkTable& table) {
  SlotCount count;
  for (const HubLoad& hub : table.hubs) {
    if (!hub.capacity) return std::nullopt;
    count.used += hub.slots_used;
    count.all += *hub.capacity;
  }
  return count;
}

const char* mark_of(Outcome outcome) {
  return outcome == Outcome::weak ? "!" : outcome == Outcome::doubtful ? "?" : " ";
}

}  // namespace

SiteOverview site_summary(const LinkTable& table) {
  return {.outcome = needs_work(table)                ? Outcome::weak
                     : table.doubtful_devices.empty() ? Outcome::good
                                                      : Outcome::doubtful,
          .worst = worst_device(table),
          .slots = slots_of(table)};
}

std::string slots_words(const Wording& wording, const SlotCount& slots) {
  return wording.say("check.sites.slots",
                     {{"used", std::to_string(slots.used)}, {"all", std::to_string(slots.all)}});
}

std::string sites_headline(const Wording& wording, std::size_t sites, std::size_t weak) {
  return wording.counted("check.sites.headline", sites, {{"bad", std::to_string(weak)}});
}

Document sites_document(const Language& language, std::span<const CheckedSite> sites) {
  const Wording wording(language);
  const auto title = [&](const char* key) { return wording.say(std::string("check.sites.") + key); };
  Table rows{{{.key = "mark"},
              {.title = title("file"), .shrinks = true, .least = 16},
              {.title = title("site"), .shrinks = true, .least = 16},
              {.title = title("weak"), .right_aligned = true},
              {.title = title("doubtful"), .right_aligned = true},
              {.title = title("worst"), .shrinks = true, .least = 16},
              {.title = wording.say("check.column.chance"),
               .unit = wording.say("placement.chance_unit"),
               .right_aligned = true},
              {.title = title("slots_used"), .right_aligned = true}},
             {}};
  std::size_t bad = 0;
  for (const CheckedSite& site : sites) {
    const LinkTable& table = site.table;
    const SiteOverview summary = site_summary(table);
    const Link* worst = summary.worst;
    const bool weak = summary.outcome == Outcome::weak;
    bad += weak ? 1 : 0;
    rows.rows.push_back({{{mark_of(summary.outcome)},
                          {site.file.substr(site.file.rfind('/') + 1)},
                          {table.site},
                          {std::to_string(table.weak_devices.size())},
                          {std::to_string(table.doubtful_devices.size())},
                          {worst == nullptr ? std::string() : worst->device},
                          {worst == nullptr ? std::string() : wording.chance_figure(worst->pass_probability)},
                          {summary.slots ? slots_words(wording, *summary.slots) : std::string()}},
                         weak ? Tone::weak : Tone::plain});
  }
  Document document;
  document.blocks.emplace_back(
      Paragraph{sites_headline(wording, sites.size(), bad), bad > 0 ? Tone::weak : Tone::strong});
  document.blocks.emplace_back(std::move(rows));
  document.blocks.emplace_back(Paragraph{wording.say("check.sites.key"), Tone::faint});
  using enum StandingCaution;
  for (Block& line : closing_cautions(wording, {reading_decides, detectors_stay}))
    document.blocks.push_back(std::move(line));
  return document;
}

Table sites_rows(std::span<const CheckedSite> sites, bool with_serving) {
  Table all;
  for (const CheckedSite& site : sites) {
    Table rows = check_rows(site.table, with_serving);
    if (all.columns.empty()) {
      all.columns = {{.key = "file"}, {.key = "site"}};
      all.columns.insert(all.columns.end(), rows.columns.begin(), rows.columns.end());
    }
    for (Row& row : rows.rows) {
      row.cells.insert(row.cells.begin(), {Cell{site.file}, Cell{site.table.site}});
      all.rows.push_back(std::move(row));
    }
  }
  return all;
}

std::string sites_json(const Language& language, std::span<const CheckedSite> sites) {
  json::Value list = json::Value::array();
  for (const CheckedSite& site : sites) {
    json::Value value{{"file", site.file}};
    value.update(json::Value::parse(check_json(language, site.table)));
    list.push_back(std::move(value));
  }
  return json::text(std::move(list));
}

}  // namespace linkmargin
