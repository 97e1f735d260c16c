#include "linkmargin/prediction/link_warnings.hpp"

#include "linkmargin/link/radio/noise_rise.hpp"
#include "linkmargin/link/reverberation/diffuse_field.hpp"
#include "linkmargin/prediction/material_neighbours.hpp"

#include <algorithm>
#include <set>

namespace linkmargin {
namespace {

/// Echoes make up for what a sum leaves out.
bool passes_many_walls(const PropagationSettings& radio, const Link& link) {
  if (counts_reverberation(radio)) return false;
  const auto walls = std::count_if(link.loss.items.begin(), link.loss.items.end(), [](const LossItem& item) {
    return item.cause == LossCause::wall || item.cause == LossCause::opening;
  });
  return walls >= kManyWalls;
}

/// From so much on echoes decide a link.
constexpr double kEchoesDecideDb = 10;

bool depends_on_reverberation(const Link& link) {
  return std::ranges::any_of(link.loss.items, [](const LossItem& item) {
    return item.cause == LossCause::reverberation && item.loss_db <= -kEchoesDecideDb;
  });
}

/// Why nothing is heard in a direction.
Warning deaf(WarningCode code, const LinkBudget& way) {
  return {.code = code, .arguments = {{"under", Figure{-way.margin.value, 1}}}};
}

/// What of a link alone should be said.
std::vector<Warning> own_warnings(const Link& link) {
  std::vector<Warning> warnings;
  if (link.uplink.below_sensitivity()) warnings.push_back(deaf(WarningCode::hub_hears_nothing, link.uplink));
  if (link.downlink && link.downlink->below_sensitivity())
    warnings.push_back(deaf(WarningCode::device_hears_nothing, *link.downlink));
  if (link.loss.distance_m < kSideBySideM) {
    warnings.push_back(
        {.code = WarningCode::beside_the_hub,
         .arguments = {{"distance", LengthFigure{link.loss.distance_m, 2}}, {"hub", link.heard_by()}}});
  }
  return warnings;
}

/// A repeater that its hub, or the repeater that it is enrolled at, does not hear: nothing enrolled at it is.
std::vector<Warning> unheard_repeater(const Link& link) {
  if (!link.weaker().below_sensitivity()) return {};
  return {{.code = WarningCode::repeater_unheard,
           .arguments = {{"repeater", Quoted{link.device}},
                         {"station", Quoted{link.heard_by()}},
                         {"under", Figure{-link.weaker().margin.value, 1}}}}};
}

/// What the link passes that is used outside the frequencies its figures are stated for.
std::vector<Warning> material_warnings(const Site& site, const Link& link) {
  std::set<StatedBand> outside;
  for (const LossItem& item : link.loss.items) {
    const std::string& name = item.table_row;
    if (name.empty()) continue;
    constexpr double any_thickness_m = 0.1;
    const auto passed = Transmission::of({name, any_thickness_m}, site.materials, site.radio.frequency_hz);
    outside.insert(passed.out_of_range().begin(), passed.out_of_range().end());
  }
  if (outside.empty()) return {};
  return {out_of_range_warning(outside, site.radio.frequency_hz)};
}

}  // namespace

std::vector<Warning> link_warnings(const Site& site, const Link& link) {
  std::vector<Warning> warnings = own_warnings(link);
  std::set<std::string> storeys;
  const auto note_storey = [&](const auto& radios, const std::string& name) {
    const auto radio = std::ranges::find_if(radios, [&](const auto& one) { return one.name == name; });
    if (radio != radios.end() && radio->place.storey < site.storeys.size()) {
      storeys.insert(site.storeys[radio->place.storey].name);
    }
  };
  note_storey(site.devices, link.device);
  note_storey(site.hubs, link.hub);
  for (const std::string& repeater : link.via) note_storey(site.repeaters, repeater);
  for (const Warning& warning : site_warnings(site)) {
    const bool of_site = warning.radio.empty() && warning.storeys.empty();
    const bool of_radio = warning.radio == link.device || warning.radio == link.hub ||
                          std::ranges::find(link.via, warning.radio) != link.via.end();
    const bool of_storey = std::ranges::any_of(
        warning.storeys, [&](const std::string& storey) { return storeys.contains(storey); });
    if (of_site || of_radio || of_storey) add_once(warnings, {warning});
  }
  add_once(warnings, material_warnings(site, link));
  add_once(warnings, neighbour_warnings(site, [&](const std::string& name) {
             return std::ranges::find(link.loss.items, name, &LossItem::table_row) != link.loss.items.end();
           }));
  add_once(warnings, noise_warnings(site.radio));
  add_once(warnings, link.loss.warnings);
  if (passes_many_walls(site.radio, link)) add_once(warnings, {{.code = WarningCode::many_walls}});
  if (depends_on_reverberation(link)) add_once(warnings, {{.code = WarningCode::echoes_decide}});
  return warnings;
}

std::vector<Warning> table_warnings(const Site& site, const Scene& scene, const LinkTable& table) {
  std::vector<Warning> warnings;
  add_once(warnings, all_site_warnings(site));
  add_once(warnings, scene.warnings());
  add_once(warnings, neighbour_warnings(site, [](const std::string&) { return true; }));
  add_once(warnings, noise_warnings(site.radio));
  NameList many;
  NameList echoing;
  NameList way_taken;  // read, and by no one told through which repeater
  for (const Link& link : table.links) {
    add_once(warnings, link.loss.warnings);
    if (!link.serving) continue;
    const PresentReading* read = table.present.find(link.device);
    const auto device = std::ranges::find(site.devices, link.device, &Device::name);
    const bool told =
        read == nullptr || read->hub || read->via || device == site.devices.end() || device->via;
    if (!told && !link.via.empty()) way_taken.names.push_back(link.device);
    if (passes_many_walls(site.radio, link)) many.names.push_back(link.device);
    if (depends_on_reverberation(link)) echoing.names.push_back(link.device);
    for (Warning& warning : own_warnings(link)) {
      warning.of_device = link.device;
      add_once(warnings, {warning});
    }
  }
  if (!many.names.empty())
    add_once(warnings, {{.code = WarningCode::many_walls_of, .arguments = {{"devices", many}}}});
  if (!way_taken.names.empty())
    add_once(warnings, {{.code = WarningCode::reading_way_taken, .arguments = {{"devices", way_taken}}}});
  if (!echoing.names.empty())
    add_once(warnings, {{.code = WarningCode::echoes_decide_for, .arguments = {{"devices", echoing}}}});
  for (const Link& link : table.repeaters) add_once(warnings, unheard_repeater(link));
  return warnings;
}

}  // namespace linkmargin
