#include "linkmargin/c/site_handle.hpp"
#include "linkmargin/exchange/writer/plan_geojson.hpp"
#include "linkmargin/prediction/fitted_shadowing.hpp"
#include "linkmargin/report/json/json_values.hpp"
#include "linkmargin/yaml/readings/readings_csv.hpp"
#include "linkmargin/yaml/site/language_yaml.hpp"
#include "linkmargin/yaml/site/site_yaml.hpp"
#include "linkmargin/yaml/what_if/cases_yaml.hpp"
#include "linkmargin/yaml/writer/site_edit.hpp"

#include <cstdlib>
#include <cstring>
#include <iterator>
#include <memory>
#include <string_view>
#include <utility>

namespace linkmargin::c {
namespace {

constexpr const char* kSiteName = "site file";
constexpr const char* kEditsName = "edits";
constexpr const char* kReadingsName = "readings";

json::Value faults_list(const Diagnostics& faults) {
  json::Value list = json::Value::array();
  for (const Diagnostic& fault : faults)
    list.push_back({{"line", fault.line},
                    {"column", fault.column},
                    {"path", fault.path},
                    {"code", code_word(fault.code)},
                    {"message", fault.message},
                    {"hint", fault.hint}});
  return list;
}

json::Value profile_list(const ProfileTable& profiles) {
  json::Value list = json::Value::array();
  for (const auto& [name, profile] : profiles) {
    json::Value row{
        {"name", name}, {"transmits", profile.transmit.has_value()}, {"class", profile.device_class}};
    if (profile.height_m) row["height_m"] = json::number(*profile.height_m);
    if (profile.below_ceiling_m) row["below_ceiling_m"] = json::number(*profile.below_ceiling_m);
    row["fixed_by_rule"] = profile.fixed_by_rule;
    list.push_back(std::move(row));
  }
  return list;
}

json::Value area_list(const Site& site) {
  json::Value list = json::Value::array();
  for (const Area& area : site.areas) {
    if (area.storey >= site.storeys.size()) continue;  // of a site with faults
    json::Value corners = json::Value::array();
    for (const Point2 corner : area.corners)
      corners.push_back({json::number(corner.x), json::number(corner.y)});
    list.push_back(
        {{"name", area.name}, {"storey", site.storeys[area.storey].name}, {"corners_m", std::move(corners)}});
  }
  return list;
}

Answer opened(const lm_site& site) {
  json::Value storeys = json::Value::array();
  for (const Storey& storey : site.site.storeys)
    storeys.push_back({{"name", storey.name},
                       {"level_m", json::number(storey.level_m)},
                       {"height_m", json::number(storey.height_m)}});
  return {site.faults.empty() ? LM_DONE : LM_FAULTS,
          json::text({{"site", site.site.name},
                      {"storeys", std::move(storeys)},
                      {"profiles", profile_list(site.site.profiles)},
                      {"areas", area_list(site.site)},
                      {"faults", faults_list(site.faults)}})};
}

/// Whether a reading names only what the site has.
bool known(const Site& site, const Reading& reading) {
  const auto has = [](const auto& radios, const std::string& name) {
    return std::ranges::any_of(radios, [&](const auto& radio) { return radio.name == name; });
  };
  return (reading.of_repeater ? has(site.repeaters, reading.device) : has(site.devices, reading.device)) &&
         (!reading.hub || has(site.hubs, *reading.hub)) &&
         (!reading.via || has(site.repeaters, *reading.via));
}

/// A value that is set again and again, as a radio is that is dragged, is written once.
void keep(std::vector<Edit>& edits, Edit edit) {
  const auto sets = [](const Edit& one) {
    return std::holds_alternative<Point2>(one.value) || std::holds_alternative<double>(one.value);
  };
  if (!edits.empty() && edits.back().path == edit.path && sets(edits.back()) && sets(edit)) edits.pop_back();
  edits.push_back(std::move(edit));
}

Answer edited(lm_site& site, std::string_view text) {
  const auto cases = parse_cases(text, kEditsName, site.site);
  if (!cases) return faults_answer(cases.error());
  std::vector<Edit> edits;
  for (const NamedEdits& one : *cases) std::ranges::copy(one.edits, std::back_inserter(edits));
  auto made = edited_site(site.site, edits);
  if (!made) return faults_answer(made.error());
  const std::string answer = json::text({{"edits", json::edits(edits)}});
  for (Edit& edit : edits) keep(site.edits, std::move(edit));
  site.site = std::move(*made);
  site.nearby.reset();
  std::erase_if(site.readings, [&](const Reading& reading) { return !known(site.site, reading); });
  return {LM_DONE, answer};
}

Answer written(lm_site& site) {
  if (site.edits.empty()) return {LM_DONE, site.text};
  auto text = edited_text(site.text, kSiteName, site.edits, embedded_tables());
  if (!text) return faults_answer(text.error());
  site.text = std::move(*text);
  site.edits.clear();
  return {LM_DONE, site.text};
}

Answer read(lm_site& site, std::string_view csv) {
  SiteReadings readings;
  if (!csv.empty()) {
    auto parsed = parse_readings(csv, kReadingsName, site.site);
    if (!parsed) return faults_answer(parsed.error());
    readings = std::move(*parsed);
  }
  site.readings = std::move(readings.readings);
  site.nearby.reset();
  return {LM_DONE, json::text({{"readings", site.readings.size()}})};
}

}  // namespace

Answer faults_answer(const Diagnostics& faults) {
  return {LM_FAULTS, json::text({{"faults", faults_list(faults)}})};
}

Answer refused(lm_status status, const std::string& why) {
  return {status, json::text({{"error", why}})};
}

char* given(const std::string& text) {
  auto* const copy = static_cast<char*>(std::malloc(text.size() + 1));
  if (copy != nullptr) std::memcpy(copy, text.c_str(), text.size() + 1);
  return copy;
}

lm_status failed(lm_status status, const char* why, char** answer) {
  try {
    *answer = given(refused(status, why).text);
  } catch (const std::exception&) {
    *answer = nullptr;
  }
  return *answer == nullptr ? LM_NO_MEMORY : status;
}

const ShadowingRegression& nearby(lm_site& site, Doors doors) {
  if (!site.nearby || site.nearby_doors != doors) {
    site.nearby = fitted_shadowing(site.site, site.readings, doors);
    site.nearby_doors = doors;
  }
  return *site.nearby;
}

}  // namespace linkmargin::c

using namespace linkmargin;

extern "C" {

lm_status lm_open(const char* text, size_t bytes, const char* language, lm_site** site, char** answer) {
  *site = nullptr;
  return c::answered(answer, [&] {
    const Language& words = built_in_language(language);
    std::string copy(text, bytes);
    auto read = attempt_site(copy, c::kSiteName, embedded_tables());
    auto made = std::make_unique<lm_site>(lm_site{.text = std::move(copy),
                                                  .site = std::move(read.site),
                                                  .faults = std::move(read.faults),
                                                  .language = words});
    c::Answer said = c::opened(*made);
    *site = made.release();
    return said;
  });
}

void lm_close(lm_site* site) {
  delete site;
}

void lm_free(char* text) {
  std::free(text);
}

lm_status lm_text(lm_site* site, char** text) {
  return c::answered(text, [&] { return c::written(*site); });
}

lm_status lm_edit(lm_site* site, const char* edits, size_t bytes, char** answer) {
  return c::answered_of(site, answer, [&] { return c::edited(*site, {edits, bytes}); });
}

lm_status lm_read(lm_site* site, const char* csv, size_t bytes, char** answer) {
  return c::answered_of(site, answer, [&] { return c::read(*site, {csv, bytes}); });
}

lm_status lm_plan(lm_site* site, char** answer) {
  return c::answered(answer, [&] { return c::Answer{LM_DONE, exchange::plan_geojson(site->site)}; });
}

}  // extern "C"
