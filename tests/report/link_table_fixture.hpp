#pragma once

#include "linkmargin/analysis/link_table.hpp"

#include <cmath>
#include <string>

/// Link tables made by hand, for tests of what is said about them.
namespace fixture {

using namespace linkmargin;

inline Direction way(double level_dbm, double sensitivity_dbm, const ReadingScale& scale) {
  Direction direction;
  direction.level = Dbm{level_dbm};
  direction.margin = Db{level_dbm - sensitivity_dbm};
  direction.sensitivity = Dbm{sensitivity_dbm};
  direction.reading_percent = direction.deaf() ? 0 : reading_percent(scale, direction.level);
  direction.items = {{"transmitted (e.i.r.p.)", 2.15}, {"path", level_dbm - 2.15}};
  return direction;
}

inline LossItem item(LossCause cause, const std::string& name, const std::string& material, double loss_db) {
  return {.cause = cause,
          .name = name,
          .material = material,
          .loss_db = loss_db,
          .sigma_db = 3,
          .incidence_deg = 0};
}

/// A one-way link whose level is 2.15 dBm less the path loss.
inline Link link(const std::string& device, double distance_m, std::vector<LossItem> items,
                 const ReadingScale& scale = {}) {
  Link link;
  link.device = device;
  link.hub = "hall hub";
  link.loss.distance_m = distance_m;
  link.loss.items = std::move(items);
  double variance = 0;
  for (const LossItem& part : link.loss.items) {
    link.loss.path_loss_db += part.loss_db;
    variance += part.sigma_db * part.sigma_db;
  }
  link.loss.sigma_db = link.sigma_db = std::sqrt(variance);
  link.uplink = way(2.15 - link.loss.path_loss_db, -105, scale);
  link.weak = link.uplink.reading_percent < scale.weak_below_percent;
  link.pass_probability = link.weak ? 0.28 : 0.97;
  return link;
}

/// Three devices: the second is weak by a kiln, the third by its distance, the first is fine.
inline LinkTable table() {
  LinkTable table;
  table.site = "Test yard";
  table.frequency_hz = 868.3e6;
  table.links = {
      link("till contact", 4, {item(LossCause::distance, "distance, exponent 2", "", 43.3)}),
      link("kiln valve", 9,
           {item(LossCause::distance, "distance, exponent 2", "", 50.3),
            item(LossCause::wall, "wall between shop and workshop", "brick 0.24 m", 12.1),
            item(LossCause::obstacle, "kiln", "kiln shell", 30.7)}),
      link("gate contact with quite a long name", 260,
           {item(LossCause::distance, "distance, exponent 2", "", 91.2),
            item(LossCause::wall, "outer wall of shop", "stud wall", 3.5)}),
  };
  table.links[1].downlink = way(-88, -100, {});
  table.links[1].weaker_is_downlink = true;
  for (const Link& link : table.links) {
    if (link.weak) table.weak_devices.push_back(link.device);
  }
  table.areas = {{.area = "drive",
                  .hub = "hall hub",
                  .share_percent = 94.7,
                  .wanted_percent = 95,
                  .worst_reading_percent = 12.2,
                  .weak = true,
                  .points = 400}};
  table.hubs = {{.hub = "hall hub",
                 .slots_used = 9,
                 .capacity = 8,
                 .classes = {{"fobs", 1, 4}, {"others", 8, 4}},
                 .over_capacity = true}};
  table.cautions = {"brick: used outside the frequencies it is stated for"};
  return table;
}

}  // namespace fixture
