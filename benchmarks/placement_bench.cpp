// Where hubs and repeaters go, in an office of 600 walls, 40 x 40 m, with 48 devices, where the straight line
// alone counts: one hub on places 0.1 m apart along the walls, against the same search by the links that
// `check` predicts, timed on a part of the places and held against it there. Then two hubs and two repeaters
// on places 0.5 m apart, with what is proved of them; and one hub where detours count.

#include "linkmargin/analysis/placement/model/placement.hpp"
#include "linkmargin/analysis/placement/model/placement_places.hpp"
#include "linkmargin/prediction/serving/serving.hpp"

#include "doored_office.hpp"
#include "office_site.hpp"
#include "ratio_report.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <string>

using namespace linkmargin;

namespace {

constexpr std::size_t kDevices = 48;
constexpr std::size_t kWalls = 600;
constexpr double kSideM = 40;
constexpr std::size_t kEvery = 100;  ///< of the places is asked by single links

/// Devices that stand anywhere in an office, with hubs and repeaters that hear them at 868 MHz.
void furnish(Site& site, double side_m) {
  Profile radio;
  radio.transmit = TransmitPower{TransmitPower::Kind::erp, Dbm{14}};
  radio.sensitivity = Dbm{-105};
  radio.two_way = true;
  for (const char* name : {"hub", "repeater", "contact"}) {
    radio.name = name;
    site.profiles[name] = radio;
  }
  site.hubs = {{.name = "hub", .profile = "hub", .place = {0, {1, 1}, 2}}};
  site.devices.clear();
  const RandomStream random(11, 4);
  for (std::uint64_t i = 0; i < kDevices; ++i) {
    const Point2 at{side_m * random.uniform(3 * i), side_m * random.uniform(3 * i + 1)};
    Device device;
    device.name = "device " + std::to_string(i);
    device.profile = "contact";
    device.place = {0, snapped(at), 0.3 + 2 * random.uniform(3 * i + 2)};
    site.devices.push_back(device);
  }
  site.reading = {.zero = Dbm{-105}, .full = Dbm{-55}, .weak_below_percent = 60};
}

Site office() {
  Site site = office_site(kWalls, 7, false);
  // Shrunk to 40 m: the seeded office is some 50 m wide.
  double most_m = 0;
  for (const TracedWall& wall : site.storeys[0].walls)
    most_m = std::max({most_m, wall.line.a.x, wall.line.a.y, wall.line.b.x, wall.line.b.y});
  for (TracedWall& wall : site.storeys[0].walls) {
    for (Point2* end : {&wall.line.a, &wall.line.b}) *end = snapped((kSideM / most_m) * *end);
  }
  for (auto& [name, material] : site.materials) {  // light partitions: else no hub reaches across
    MeasuredLoss& loss = std::get<MeasuredLoss>(material.kind);
    for (auto& point : loss.points) point.loss_db /= 2;
    material.sigma_db = 1;
  }
  furnish(site, kSideM);
  return site;
}

PlacementOptions options_of(double step_m, int hubs, int repeaters) {
  PlacementOptions options;
  options.anywhere = true;
  options.hubs = hubs;
  options.repeaters = repeaters;
  options.step_m = step_m;
  options.doors = {Doors::armed};
  options.best_only = true;
  return options;
}

void one_hub(benchmark::State& state) {
  const Site site = office();
  PlacementAnswer found;
  for (auto _ : state) found = placement(site, options_of(0.1, 1, 0));
  if (found.status != PlacementStatus::optimal) state.SkipWithError("not proved");
  state.counters["places"] = static_cast<double>(found.places);
  state.counters["worst"] = found.choices.at(0).worst_chance();
}

/// Every hundredth place, link by link.
void one_hub_by_links(benchmark::State& state) {
  const Site site = office();
  const Scene scene(site, Doors::armed);
  const FadingModel fading_model(site.fading);
  const PlacementPlaces places =
      placement_places(site, MountingPlaces(site), placed_radios(site, 1, 0, true), 0.1);
  double best = 0;
  for (auto _ : state) {
    best = 0;
    for (std::size_t p = 0; p < places.points.size(); p += kEvery) {
      Hub hub = site.hubs[0];
      hub.place = places.points[p];
      const HubEndpoint endpoint = hub_endpoint(site, scene, hub);
      double worst = 1;
      for (const Device& device : site.devices) {
        const Link link = predicted_link(site, device, endpoint);
        worst =
            std::min(worst, pass_summary(site, link, fading_model, {0, link.loss.sigma_db}).pass_probability);
      }
      best = std::max(best, worst);
    }
  }
  const double found = placement(site, options_of(0.1, 1, 0)).choices.at(0).worst_chance();
  if (best > found + 1e-4) state.SkipWithError("single links found a better place");
  state.counters["worst"] = best;
}

void two_and_two(benchmark::State& state) {
  const Site site = office();
  PlacementAnswer found;
  for (auto _ : state) found = placement(site, options_of(0.5, 2, 2));
  state.counters["places"] = static_cast<double>(found.places);
  state.counters["proved"] = found.status == PlacementStatus::optimal ? 1 : 0;
  state.counters["worst"] = found.choices.at(0).worst_chance();
  state.counters["worst_bound"] = found.worst_bound;
  state.counters["bound_db"] = found.bound_db.value_or(-1);
  state.counters["sum"] = found.choices.at(0).sum;
  state.counters["sum_bound"] = found.sum_bound;
}

void diffracted_one_hub(benchmark::State& state) {
  Site site = doored_office(17, 7);
  furnish(site, 60);
  site.radio.diffraction = true;
  PlacementAnswer found;
  for (auto _ : state) found = placement(site, options_of(0.5, 1, 0));
  state.counters["places"] = static_cast<double>(found.places);
  state.counters["proved_step_m"] = found.proved_step_m;
  state.counters["worst"] = found.choices.at(0).worst_chance();
}

void print_ratios(const RatioReporter& reporter) {
  std::printf(
      "\nTimes as fast as ..., %zu walls, %zu devices, places 0.1 m apart along the walls, one thread\n",
      kWalls, kDevices);
  reporter.print("links as check predicts them", "one_hub/iterations:3", "one_hub_by_links/iterations:1",
                 static_cast<double>(kEvery));
}

}  // namespace

int main(int argc, char** argv) {
  benchmark::RegisterBenchmark("one_hub", one_hub)->Unit(benchmark::kMillisecond)->Iterations(3);
  benchmark::RegisterBenchmark("one_hub_by_links", one_hub_by_links)
      ->Unit(benchmark::kMillisecond)
      ->Iterations(1);
  benchmark::RegisterBenchmark("two_hubs_two_repeaters", two_and_two)
      ->Unit(benchmark::kMillisecond)
      ->Iterations(1);
  benchmark::RegisterBenchmark("routed_one_hub", diffracted_one_hub)
      ->Unit(benchmark::kMillisecond)
      ->Iterations(1);
  return run_with_ratios(argc, argv, print_ratios);
}
