// What-if runs from a program of your own: the site is built in code, no file is read or written. An invented
// corner of a workshop: two rooms, a hub, a contact in the shop and one at the gate. Which hub height is
// best, and how often would every device be read well if the walls and the model are off as they may be?

#include <cstdio>
#include <linkmargin/linkmargin.hpp>

using namespace linkmargin;

namespace {

Material measured(const char* name, double loss_db, double sigma_db) {
  Material material;
  material.name = name;
  material.kind = MeasuredLoss{{{0, loss_db}}};
  material.sigma_db = sigma_db;
  material.source = "invented";
  return material;
}

Profile radio(const char* name, double erp_dbm, double sensitivity_dbm) {
  Profile profile;
  profile.name = name;
  profile.transmit = TransmitPower{TransmitPower::Kind::erp, Dbm{erp_dbm}};
  profile.sensitivity = Dbm{sensitivity_dbm};
  profile.two_way = true;
  return profile;
}

Device contact(const char* name, Point2 at) {
  Device device;
  device.name = name;
  device.profile = "contact";
  device.place = {0, at, 2.0};
  return device;
}

Site workshop() {
  Site site;
  site.name = "workshop";
  site.materials = {{"brick wall", measured("brick wall", 9, 4)},
                    {"steel sheet", measured("steel sheet", 26, 6)}};
  site.profiles = {{"hub", radio("hub", 14, -104)}, {"contact", radio("contact", 10, -102)}};
  Storey ground;
  ground.name = "ground";
  ground.height_m = 3;
  ground.outer_wall.material = "steel sheet";
  ground.inner_wall.material = "brick wall";
  ground.rooms = {{.name = "shop", .corners = {{0, 0}, {6, 0}, {6, 5}, {0, 5}}},
                  {.name = "store", .corners = {{6, 0}, {14, 0}, {14, 5}, {6, 5}}}};
  site.storeys = {ground};
  site.hubs = {{.name = "hub", .profile = "hub", .place = {0, {1, 2.5}, 2.0}}};
  site.devices = {contact("gate contact", {60, 2.5}), contact("shop contact", {5, 0.25})};
  return site;
}

}  // namespace

int main() {
  const Site site = workshop();
  for (const Diagnostic& fault : validate(site)) std::printf("%s\n", to_text(fault).c_str());

  WhatIf runs;
  runs.sites = {{.file = "workshop",
                 .site = site,
                 .cases = {{.name = "brick outside",
                            .edits = {{"/storeys/ground/outer_wall/material", std::string("brick wall")}}}}}};
  runs.sweep = {{"/hubs/hub/height_m", {1.0, 2.0}, {"1", "2"}}};
  runs.draws = RandomDraws{.runs = 2000, .seed = 7};

  WhatIfStatistics statistics(runs);
  what_if(runs, {.threads = 2}, {}, [&](const WhatIfBlock& block) {
    for (const WhatIfRow& row : block.rows) {
      statistics.add(row.run, row.worst_reading_percent, row.weak_count);
      if (row.draw > 0) continue;
      std::printf("case %zu, combination %llu: %s reads lowest, %.0f %%, chance %.2f\n", row.variant.of_case,
                  static_cast<unsigned long long>(row.variant.combination), row.worst_device.c_str(),
                  row.worst_reading_percent, row.worst_pass_probability);
    }
    return true;  // go on
  });
  for (const CaseStatistics& of : statistics.cases()) {
    std::printf("%llu draws: no device weak in %.1f of 100\n", static_cast<unsigned long long>(of.drawn),
                100.0 * static_cast<double>(of.drawn_pass) / static_cast<double>(of.drawn));
  }
}
