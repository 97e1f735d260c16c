#include "linkmargin/prediction/link_warnings.hpp"

#include "linkmargin/prediction/material_neighbours.hpp"
#include "linkmargin/base/number_text.hpp"
#include "linkmargin/link/reverberation/diffuse_field.hpp"
#include "linkmargin/link/mechanism/noise_rise.hpp"

#include <algorithm>
#include <set>

namespace linkmargin {
namespace {

void add_once(std::vector<std::string>& texts, const std::string& text) {
  if (std::find(texts.begin(), texts.end(), text) == texts.end()) texts.push_back(text);
}

void add_all_once(std::vector<std::string>& texts, const std::vector<std::string>& more) {
  for (const std::string& text : more) add_once(texts, text);
}

/// Echoes make up for what a sum leaves out.
bool passes_many_walls(const PropagationSettings& radio, const Link& link) {
  if (counts_reverberation(radio)) return false;
  const auto walls = std::count_if(link.loss.items.begin(), link.loss.items.end(), [](const LossItem& item) {
    return item.cause == LossCause::wall || item.cause == LossCause::opening;
  });
  return walls >= kManyWalls;
}

constexpr const char* kRepeatersText =
    "repeaters are placed but not yet counted: every link is predicted straight to a hub";

constexpr const char* kManyWallsText = "three or more walls in a row, where a sum over walls is pessimistic";

/// From so much on echoes decide a link.
constexpr double kEchoesDecideDb = 10;

bool depends_on_reverberation(const Link& link) {
  return std::ranges::any_of(link.loss.items, [](const LossItem& item) {
    return item.cause == LossCause::reverberation && item.loss_db <= -kEchoesDecideDb;
  });
}

constexpr const char* kReverberationText =
    "most of the level comes by echoes, which goods and people weaken, and which a floor or roof that the "
    "file leaves "
    "out is taken to throw back as the room's walls do";

/// Why nothing is heard in a direction.
std::string deaf_text(const LinkBudget& way, const char* receiver) {
  return std::string("the level predicted at the ") + receiver + " is " + fixed_text(-way.margin.value, 1) +
         " dB under what its receiver hears; expect no reading at all";
}

/// What of a link alone should be said.
std::vector<std::string> own_warnings(const Link& link) {
  std::vector<std::string> texts;
  if (link.uplink.below_sensitivity()) texts.push_back(deaf_text(link.uplink, "hub"));
  if (link.downlink && link.downlink->below_sensitivity()) texts.push_back(deaf_text(*link.downlink, "device"));
  if (link.loss.distance_m < kSideBySideM) {
    texts.push_back("it hangs " + fixed_text(link.loss.distance_m, 2) + " m from " + link.hub +
                    ", side by side: it reads its maximum there, which tells nothing about the place");
  }
  return texts;
}

/// What the link passes that is used outside the frequencies its figures are stated for.
std::vector<std::string> material_warnings(const Site& site, const Link& link) {
  std::set<std::string> outside;
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

std::vector<std::string> link_warnings(const Site& site, const Link& link) {
  std::vector<std::string> texts = own_warnings(link);
  std::set<std::string> storeys;
  const auto note_storey = [&](const auto& radios, const std::string& name) {
    const auto radio = std::ranges::find_if(radios, [&](const auto& one) { return one.name == name; });
    if (radio != radios.end() && radio->place.storey < site.storeys.size()) {
      storeys.insert(site.storeys[radio->place.storey].name);
    }
  };
  note_storey(site.devices, link.device);
  note_storey(site.hubs, link.hub);
  for (const Warning& warning : site_warnings(site)) {
    const bool of_site = warning.radio.empty() && warning.storeys.empty();
    const bool of_radio = warning.radio == link.device || warning.radio == link.hub;
    const bool of_storey = std::ranges::any_of(
        warning.storeys, [&](const std::string& storey) { return storeys.contains(storey); });
    if (of_site || of_radio || of_storey) add_once(texts, warning.text);
  }
  add_all_once(texts, material_warnings(site, link));
  add_all_once(texts, neighbour_warnings(site, [&](const std::string& name) {
                 return std::ranges::find(link.loss.items, name, &LossItem::table_row) != link.loss.items.end();
               }));
  add_all_once(texts, noise_warnings(site.radio));
  add_all_once(texts, link.loss.warnings);
  if (passes_many_walls(site.radio, link)) add_once(texts, kManyWallsText);
  if (depends_on_reverberation(link)) add_once(texts, kReverberationText);
  if (!site.repeaters.empty()) add_once(texts, kRepeatersText);
  return texts;
}

std::vector<std::string> table_warnings(const Site& site, const Scene& scene, const LinkTable& table) {
  std::vector<std::string> texts;
  add_all_once(texts, site_warning_texts(site));
  add_all_once(texts, scene.warnings());
  add_all_once(texts, neighbour_warnings(site, [](const std::string&) { return true; }));
  add_all_once(texts, noise_warnings(site.radio));
  std::string many;
  std::string echoing;
  for (const Link& link : table.links) {
    add_all_once(texts, link.loss.warnings);
    if (!link.serving) continue;
    if (passes_many_walls(site.radio, link)) many += (many.empty() ? "" : ", ") + link.device;
    if (depends_on_reverberation(link)) echoing += (echoing.empty() ? "" : ", ") + link.device;
    for (const std::string& text : own_warnings(link)) add_once(texts, link.device + ": " + text);
  }
  if (!many.empty()) add_once(texts, kManyWallsText + (": " + many));
  if (!echoing.empty()) add_once(texts, kReverberationText + (": " + echoing));
  if (!site.repeaters.empty()) {
    add_once(texts, kRepeatersText);
  }
  return texts;
}

}  // namespace linkmargin
