#include "linkmargin/analysis/review/place_trials.hpp"

#include "fixtures/readings_fixture.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>

using namespace linkmargin;

namespace {

void move(Site& site, const std::string& radio, const Placement& place) {
  for (Hub& hub : site.hubs) {
    if (hub.name == radio) hub.place = place;
  }
  for (Repeater& repeater : site.repeaters) {
    if (repeater.name == radio) repeater.place = place;
  }
  for (Device& device : site.devices) {
    if (device.name == radio) device.place = place;
  }
}

bool same(const TrialFigures& left, const TrialFigures& right) {
  return std::abs(left.percent - right.percent) <= 1e-9 &&
         std::abs(left.low_percent - right.low_percent) <= 1e-9 &&
         std::abs(left.high_percent - right.high_percent) <= 1e-9 &&
         std::abs(left.pass_probability - right.pass_probability) <= 1e-9 && left.outcome == right.outcome &&
         left.heard_by == right.heard_by;
}

}  // namespace

TEST_CASE("a thousand places say what check says of the site with that one radio moved") {
  const Site site = pottery();
  const std::vector<RadioTrials> trials =
      place_trials(site, {.moving = {"garage door contact", "workshop motion", "hall smoke"}, .threads = 2});
  std::size_t compared = 0, on_upper = 0;
  for (const RadioTrials& radio : trials) {
    CAPTURE(radio.radio);
    for (const PlaceTrial& trial : radio.places) {
      on_upper += !radio.device && trial.place.storey == 1 ? 1 : 0;
      if (compared >= 1000 && !radio.device) break;
      Site moved = site;
      move(moved, radio.radio, trial.place);
      const LinkTable table = link_table(moved, {.area_step_m = kTrialAreaStepM});
      const std::vector<TrialFigures> all = trial_figures(moved, table);
      if (radio.device) {
        const auto of = std::ranges::find(site.devices, radio.radio, &Device::name) - site.devices.begin();
        REQUIRE(trial.devices.size() == 1);
        CHECK(same(trial.devices[0], all[static_cast<std::size_t>(of)]));
      } else {
        REQUIRE(trial.devices.size() == site.devices.size());
        for (std::size_t i = 0; i < all.size(); ++i) CHECK(same(trial.devices[i], all[i]));
        CHECK(trial.slots_used == slots_used(table));
      }
      ++compared;
    }
  }
  CHECK(compared >= 1000);
  CHECK(on_upper > 0);
  const auto has = [&](const std::string& radio) {
    return std::ranges::find(trials, radio, &RadioTrials::radio) != trials.end();
  };
  CHECK(has("hub"));
  CHECK(has("landing repeater"));
  CHECK(has("workshop motion"));
  CHECK_FALSE(has("hall smoke"));  // its standard fixes its place
}

TEST_CASE("what is fixed stays, and many devices have fewer places") {
  Site site = pottery();
  site.hubs[0].fixed = true;
  const std::vector<RadioTrials> trials = place_trials(site, {.step_m = 1, .threads = 2});
  REQUIRE(trials.size() == 1);
  CHECK(trials[0].radio == "landing repeater");
  const std::vector<RadioTrials> few = place_trials(site, {.step_m = 1, .most_links = 18 * 10, .threads = 2});
  REQUIRE(few.size() == 1);
  CHECK(few[0].places.size() <= 10);
  CHECK(few[0].places.size() < trials[0].places.size());
  CHECK(place_trials(site, {.step_m = 1, .threads = 1})[0].places.size() == trials[0].places.size());
}
