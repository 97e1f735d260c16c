#include "linkmargin/analysis/coverage/coverage.hpp"
#include "linkmargin/analysis/placement/model/placement.hpp"
#include "linkmargin/analysis/relocation/link_answer.hpp"
#include "linkmargin/c/site_handle.hpp"
#include "linkmargin/prediction/link_table.hpp"
#include "linkmargin/report/check_report.hpp"
#include "linkmargin/report/explain_report.hpp"
#include "linkmargin/report/json/json_values.hpp"
#include "linkmargin/report/placement_report.hpp"
#include "linkmargin/report/words/phrases.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace linkmargin::c {
namespace {

LinkTableOptions table_options(lm_site& site, Doors doors, bool all_pairs) {
  return {.doors = doors, .all_pairs = all_pairs, .readings = site.readings, .nearby = nearby(site, doors)};
}

json::Value figures_of(const Link& link) {
  return {{"device", link.device},
          {"hub", link.hub},
          {"via", link.via},
          {"distance_m", json::number(link.loss.distance_m)},
          {"reading_percent", json::number(link.weaker().reading_percent)},
          {"pass_probability", json::number(link.pass_probability)},
          {"reading_low_percent", json::number(link.low_percent)},
          {"reading_high_percent", json::number(link.high_percent)},
          {"outcome", outcome_code(link.outcome)}};
}

json::Value figures_of(const AreaCover& area) {
  return {{"area", area.area},
          {"hub", area.hub},
          {"via", area.via},
          {"share_percent", json::number(area.share_percent)},
          {"wanted_percent", json::number(area.wanted_percent)},
          {"weak", area.weak}};
}

Answer figures(lm_site& site, Doors doors) {
  const LinkTable table = link_table(site.site, table_options(site, doors, false), site.scenes);
  json::Value links = json::Value::array(), areas = json::Value::array();
  for (const Link& link : table.links) links.push_back(figures_of(link));
  for (const AreaCover& area : table.areas) areas.push_back(figures_of(area));
  return {LM_DONE, json::line({{"doors", doors_word(table.doors)},
                               {"weak_below_percent", json::number(table.reading.weak_below_percent)},
                               {"links", std::move(links)},
                               {"areas", std::move(areas)}})};
}

Answer explained(lm_site& site, Doors doors, const std::string& device) {
  const LinkTableOptions options = table_options(site, doors, true);
  const LinkTable table = link_table(site.site, options, site.scenes);
  const auto link =
      std::ranges::find_if(table.links, [&](const Link& one) { return one.serving && one.device == device; });
  if (link == table.links.end()) return refused(LM_REFUSED, "unknown device '" + device + "'");
  const LinkAnswer said = link_answer(site.site, options, *link, spots_of_rows(site.site, table, *link));
  return {LM_DONE, explain_json(site.language, site.site, table, *link, said.read ? &*said.read : nullptr,
                                said.tried ? &*said.tried : nullptr)};
}

struct MapRows {
  int first;
  int count;
  float* cells;
  std::size_t capacity;
};

Answer mapped(lm_site& site, CoverageOptions options, const MapRows& rows) {
  options.chances = false;
  options.nearby = nearby(site, options.doors);
  options.rows = CoverageRows{rows.first, rows.count};
  const CoverageMap map = coverage(site.site, options);
  const auto columns = static_cast<std::size_t>(map.columns);
  const std::size_t first = static_cast<std::size_t>(rows.first) * columns;
  const std::size_t needed = static_cast<std::size_t>(rows.count) * columns;
  if (needed > rows.capacity)
    return refused(LM_TOO_SMALL, "the rows take " + std::to_string(needed) + " cells");
  for (std::size_t cell = 0; cell < needed; ++cell) {
    const double reading = value_at(map, first + cell, CoverageValue::reading);
    rows.cells[cell] =
        std::isfinite(reading) ? static_cast<float>(reading) : std::numeric_limits<float>::quiet_NaN();
  }
  return {LM_DONE, json::text({{"storey", map.storey},
                               {"profile", map.profile},
                               {"height_m", json::number(map.height_m)},
                               {"origin_m", {json::number(map.origin.x), json::number(map.origin.y)}},
                               {"step_m", json::number(map.step_m)},
                               {"columns", map.columns},
                               {"rows", map.rows},
                               {"weak_below_percent", json::number(map.reading.weak_below_percent)}})};
}

}  // namespace
}  // namespace linkmargin::c

using namespace linkmargin;

extern "C" {

lm_status lm_check(lm_site* site, lm_doors doors, char** answer) {
  return c::answered_of(site, answer, [&] {
    return c::Answer{
        LM_DONE,
        check_json(site->language,
                   link_table(site->site, c::table_options(*site, c::doors_of(doors), false), site->scenes))};
  });
}

lm_status lm_figures(lm_site* site, lm_doors doors, char** answer) {
  return c::answered_of(site, answer, [&] { return c::figures(*site, c::doors_of(doors)); });
}

lm_status lm_explain(lm_site* site, lm_doors doors, const char* device, char** answer) {
  return c::answered_of(site, answer, [&] { return c::explained(*site, c::doors_of(doors), device); });
}

lm_status lm_map(lm_site* site, lm_doors doors, const char* storey, double step_m, int first_row,
                 int row_count, float* cells, size_t capacity, char** answer) {
  return c::answered_of(site, answer, [&] {
    return c::mapped(*site, {.doors = c::doors_of(doors), .storey = storey, .step_m = step_m},
                     {first_row, row_count, cells, capacity});
  });
}

lm_status lm_place_step(lm_site* site, lm_doors doors, int anywhere, double step_m, char** answer) {
  return c::answered_of(site, answer, [&] {
    PlacementOptions options;
    options.anywhere = anywhere != 0;
    options.step_m = step_m;
    options.doors = {c::doors_of(doors)};
    options.best_only = true;
    return c::Answer{LM_DONE, placement_json(site->language, site->site, placement(site->site, options))};
  });
}

}  // extern "C"
