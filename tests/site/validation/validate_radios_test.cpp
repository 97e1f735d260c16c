#include "fixtures/sound_site.hpp"

using namespace linkmargin;

TEST_CASE("faults of profiles and of who has them") {
  site_test::check_fault_cases({
      {"unknown, of a hub", [](Site& s) { s.hubs[0].profile = "hubb"; }, "/hubs/hub/profile",
       "unknown profile 'hubb'", "did you mean 'hub'?"},
      {"unknown, of a repeater", [](Site& s) { s.repeaters[0].profile = "hbu"; },
       "/repeaters/landing/profile", "unknown profile 'hbu'", "'hub'"},
      {"unknown, of a device", [](Site& s) { s.devices[0].profile = "contct"; }, "/devices/contact/profile",
       "unknown profile 'contct'", "'contact'"},
      {"unknown, of an area", [](Site& s) { s.areas[0].profile = "fobb"; }, "/areas/drive/profile",
       "unknown profile 'fobb'", "'fob'"},
      {"two-way without power",
       [](Site& s) {
         Profile p = s.profiles["contact"];
         p.transmit.reset();
         s.profiles["siren"] = p;
       },
       "/profiles/siren/two_way", "'siren' is two_way but has no power", "erp_dbm"},
      {"two-way without sensitivity", [](Site& s) { s.profiles["contact"].sensitivity = std::monostate{}; },
       "/profiles/contact/two_way", "'contact' is two_way but has no sensitivity", "sensitivity_dbm"},
      {"a hub that does not receive", [](Site& s) { s.hubs[0].profile = "fob"; }, "/hubs/hub/profile",
       "'hub' cannot receive: profile 'fob' has no sensitivity", "sensitivity_dbm"},
      {"a device that does not transmit", [](Site& s) { s.profiles["fob"].transmit.reset(); },
       "/areas/drive/profile", "'drive' cannot transmit: profile 'fob' has no power", "erp_dbm"},
      {"no hub", [](Site& s) { s.hubs.clear(); }, "/hubs", "a site needs a hub"},
      {"an unknown hub of a device", [](Site& s) { s.devices[0].hub = "hob"; }, "/devices/contact/hub",
       "unknown hub 'hob'", "'hub'"},
      {"an unknown hub of an area", [](Site& s) { s.areas[0].hub = "landing"; }, "/areas/drive/hub",
       "unknown hub 'landing'"},
  });
}

TEST_CASE("faults of capacity classes") {
  site_test::check_fault_cases({
      {"a class that no hub has",
       [](Site& s) {
         s.hubs[0].capacity = Capacity{{}, {{"fob", 8}, {"", 32}}};
       },
       "/hubs/hub/capacity", "hub 'hub' has no slots for class 'fobs', which 'drive' needs",
       "did you mean 'fob'?"},
      {"devices without a class",
       [](Site& s) {
         s.hubs[0].capacity = Capacity{{}, {{"fobs", 8}}};
       },
       "/hubs/hub/capacity", "no slots for devices without a class, which 'contact' needs", "'others'"},
      {"the named hub lacks it",
       [](Site& s) {
         Hub second = s.hubs[0];
         second.name = "second";
         second.capacity = Capacity{{}, {{"fobs", 8}}};
         s.hubs.push_back(second);
         s.devices[0].hub = "second";
       },
       "/hubs/second/capacity", "hub 'second' has no slots for devices without a class", "'others'"},
  });
  for (const Capacity& capacity : {Capacity{40, {}}, Capacity{{}, {{"fobs", 8}, {"others", 32}}}}) {
    Site site = site_test::sound_site();
    site.hubs[0].capacity = capacity;
    CHECK(validate(site).empty());
  }
  Site site = site_test::sound_site();  // another hub takes what this one does not
  site.hubs.push_back(site.hubs[0]);
  site.hubs[1].name = "for fobs";
  site.hubs[1].capacity = Capacity{{}, {{"fobs", 8}}};
  CHECK(validate(site).empty());
}

TEST_CASE("faults of names across radios") {
  site_test::check_fault_cases({
      {"a device named as a hub", [](Site& s) { s.devices[0].name = "hub"; }, "/devices/hub",
       "'hub' is the name of a hub already", "names of their own"},
      {"a repeater named as a hub", [](Site& s) { s.repeaters[0].name = "hub"; }, "/repeaters/hub",
       "'hub' is the name of a hub already", "names of their own"},
      {"a device named as a repeater", [](Site& s) { s.devices[0].name = "landing"; }, "/devices/landing",
       "'landing' is the name of a repeater already", "names of their own"},
      {"two devices of one name", [](Site& s) { s.devices.push_back(s.devices[0]); }, "/devices/contact",
       "more than one of devices named 'contact'"},
      {"two areas of one name", [](Site& s) { s.areas.push_back(s.areas[0]); }, "/areas/drive",
       "more than one area 'drive'"},
      {"a hub named best", [](Site& s) { s.hubs[0].name = "best"; }, "/hubs/best", "cannot be named 'best'"},
  });
}

TEST_CASE("faults of places") {
  site_test::check_fault_cases({
      {"above its ceiling", [](Site& s) { s.devices[0].place.height_m = 3.5; }, "/devices/contact/height_m",
       "'contact' at 3.50 m is above the ceiling (2.60 m) of 'shop' in storey 'ground'",
       "storey 'upper' holds that height, as height_m 0.70"},
      {"in the slab", [](Site& s) { s.hubs[0].place.height_m = 2.7; }, "/hubs/hub/height_m",
       "above the ceiling", "no storey holds that height"},
      {"below its floor", [](Site& s) { s.repeaters[0].place.height_m = -0.5; },
       "/repeaters/landing/height_m", "'landing' at -0.50 m is below the floor of 'office' in storey 'upper'",
       "storey 'ground' holds that height, as height_m 2.30"},
      {"outside every storey",
       [](Site& s) {
         s.devices[0].place = {0, {-3, -3}, 21};
         s.devices[0].may_move.reset();
       },
       "/devices/contact/height_m",
       "21.00 m above the site's zero, outside every storey: they reach from 0.00 m to 5.20 m",
       "height_m counts from the floor"},
      {"on no storey", [](Site& s) { s.devices[0].place.storey = 2; }, "/devices/contact/storey",
       "'contact' stands on no storey"},
      {"an area on no storey", [](Site& s) { s.areas[0].storey = 7; }, "/areas/drive/storey",
       "'drive' lies on no storey"},
      {"an area that crosses itself",
       [](Site& s) {
         s.areas[0].corners = {{0, -8}, {4, -4}, {4, -8}, {0, -4}};
       },
       "/areas/drive/corners_m", "area 'drive' crosses or touches itself at (2, -6)", "in order"},
  });
  Site site = site_test::sound_site();  // on the ceiling, on the floor, on a mast, high on the gable
  site.devices[0].place.height_m = 2.6;
  site.devices.push_back(site.devices[0]);
  site.devices[1].name = "floor";
  site.devices[1].place.height_m = 0;
  site.hubs[0].place = {0, {-3, -3}, 12};
  CHECK(validate(site).empty());
}

TEST_CASE("faults of reach") {
  site_test::check_fault_cases({
      {"an unknown room", [](Site& s) { s.devices[0].may_move = Mobility{Mobility::WithinRoom{"shopp"}}; },
       "/devices/contact/may_move/within", "unknown room 'shopp'", "did you mean 'shop'?"},
      {"a room of another storey",
       [](Site& s) { s.devices[0].may_move = Mobility{Mobility::WithinRoom{"office"}}; },
       "/devices/contact/may_move/within", "unknown room 'office'"},
      {"another room",
       [](Site& s) {
         s.hubs[0].may_move = Mobility{Mobility::WithinRoom{"workshop"}};
         s.hubs[0].place.at = {4, 2};
       },
       "/hubs/hub/may_move/within", "'hub' stands 2.00 m away from room 'workshop'"},
      {"off its line",
       [](Site& s) {
         s.devices[0].may_move = Mobility{Mobility::Along{{{0, 1}, {6, 1}}}};
       },
       "/devices/contact/may_move/along_m", "'contact' stands 0.90 m away from the line"},
      {"a line of one point",
       [](Site& s) {
         s.devices[0].may_move = Mobility{Mobility::Along{{{2, 0.1}}}};
       },
       "/devices/contact/may_move/along_m", "needs two points"},
      {"outside its corners",
       [](Site& s) {
         s.repeaters[0].may_move = Mobility{Mobility::Within{rectangle({0, 0}, 3, 3)}};
       },
       "/repeaters/landing/may_move/within_m", "'landing' stands 2.00 m away from the outline"},
      {"corners that cross",
       [](Site& s) {
         s.repeaters[0].may_move = Mobility{Mobility::Within{{{0, 0}, {4, 4}, {4, 0}, {0, 4}}}};
       },
       "/repeaters/landing/may_move/within_m", "crosses or touches itself", "in order"},
  });
  Site site = site_test::sound_site();
  for (const Mobility& reach : {Mobility{Mobility::Radius{0}}, Mobility{Mobility::WithinRoom{"shop"}},
                                Mobility{Mobility::Along{{{0, 0.5}, {6, 0.5}}}},
                                Mobility{Mobility::Within{rectangle({0, 0.5}, 3, 3)}}}) {
    site.devices[0].may_move = reach;
    CHECK(validate(site).empty());
  }
}

TEST_CASE("faults of the environment and the reading") {
  using enum PathLossModel;
  site_test::check_fault_cases({
      {"an environment that walls ignores", [](Site& s) { s.radio.building_type = "home"; },
       "/radio/environment", "no use for an environment", "log_distance and site_general"},
      {"a form that walls ignores", [](Site& s) { s.radio.form = SiteGeneralForm::power_loss; },
       "/radio/form", "no use for a form", "site_general"},
      {"a constant that walls ignores", [](Site& s) { s.radio.constant_loss_db = 5; },
       "/radio/constant_loss_db", "no use for a constant loss", "multi_wall"},
      {"unknown to log-distance",
       [](Site& s) {
         s.radio.model = log_distance;
         s.radio.building_type = "grocry store";
       },
       "/radio/environment", "unknown environment 'grocry store'", "did you mean 'grocery store'?"},
      {"of the other form",
       [](Site& s) {
         s.radio.model = site_general;
         s.radio.building_type = "residential";
       },
       "/radio/environment", "unknown environment 'residential'", "one of office, corridor, industrial"},
      {"full not above zero", [](Site& s) { s.reading.full = s.reading.zero; }, "/reading/full_dbm",
       "full_dbm must lie above zero_dbm"},
  });
  std::size_t accepted = 0;
  for (const PathLossModel model : {log_distance, site_general}) {
    for (const SiteGeneralForm form : {SiteGeneralForm::coefficients, SiteGeneralForm::power_loss}) {
      if (model == log_distance && form == SiteGeneralForm::power_loss) continue;
      auto names = environment_names(model, form);
      CHECK(names.size() >= 3);
      names.emplace_back();  // none
      for (const std::string& environment : names) {
        Site site = site_test::sound_site();
        site.radio.model = model;
        site.radio.form = form;
        site.radio.building_type = environment;
        CHECK(validate(site).empty());
        ++accepted;
      }
    }
  }
  CHECK(accepted >= 12);
}
