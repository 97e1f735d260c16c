// Prints what the constants of the propagation model may move, for tests/sensitivity/constants.py, which
// builds it with constants that the environment scales:
//     link_losses links DATA TESTS   NAME LOSS_DB SIGMA_DB CHANCE of every device with every hub
//     link_losses checks             the tables of docs/validation that ask the whole model
//     link_losses places             LEAST SUM BOUND STATUS of problems of placement
#include "linkmargin/analysis/placement/solver/placement_solver.hpp"
#include "linkmargin/link/fading_model.hpp"
#include "linkmargin/link/mechanism/scene.hpp"
#include "linkmargin/link/path_loss.hpp"
#include "linkmargin/yaml/site/site_yaml.hpp"
#include "linkmargin/yaml/site/tables.hpp"

#include "analysis/placement/placement_enumeration.hpp"
#include "fixtures/site_fixture.hpp"
#include "validation/sections.hpp"

#include <cstdio>
#include <fstream>
#include <iostream>
#include <iterator>
#include <stdexcept>
#include <string>

using namespace linkmargin;

namespace {

constexpr double kSentDbm = 14;     // a usual e.r.p. at 868 MHz, and an antenna of 0 dB
constexpr double kNeededDbm = -85;  // 40 % of a scale from -105 to -55 dBm

Site site_of(const std::string& path) {
  std::ifstream file(path);
  const std::string text{std::istreambuf_iterator<char>(file), {}};
  auto site = parse_site(text, path, embedded_tables());
  if (!site) throw std::runtime_error(path + " is unsound");
  return std::move(*site);
}

void print_link(const std::string& name, const Scene& scene, const FadingModel& fading, Point3 hub,
                Point3 device) {
  const LossBreakdown loss = path_loss(scene, hub, device);
  const double chance =
      fading.chance(Dbm{kSentDbm - loss.path_loss_db}, Dbm{kNeededDbm}, loss.sigma_db, fading.k_db(loss));
  std::printf("%s\t%.9f\t%.9f\t%.9f\n", name.c_str(), loss.path_loss_db, loss.sigma_db, chance);
}

void print_site(const std::string& path) {
  const Site site = site_of(path);
  const Scene scene(site, Doors::armed);
  const FadingModel fading(site.fading);
  for (const Hub& hub : site.hubs) {
    for (const Device& device : site.devices) {
      print_link(site.name + ": " + device.name + ", " + hub.name, scene, fading, site.point(hub.place),
                 site.point(device.place));
    }
  }
}

/// Twelve devices and two hubs at random in each of twenty blocks of three storeys.
void print_random_sites() {
  constexpr int kStoreys = 3, kColumns = 4, kRows = 3;
  for (std::uint64_t seed = 1; seed <= 20; ++seed) {
    const Site site = fixture::random_block(seed, kStoreys, kColumns, kRows);
    const Scene scene(site, Doors::armed);
    const FadingModel fading(site.fading);
    const RandomStream random(seed, 2);
    for (std::uint64_t i = 0; i < 24; ++i) {
      print_link("block " + std::to_string(seed) + ": " + std::to_string(i), scene, fading,
                 fixture::random_point(random, i % 2, kStoreys, kColumns, kRows),
                 fixture::random_point(random, 2 + i / 2, kStoreys, kColumns, kRows));
    }
  }
}

void print_places() {
  for (std::uint64_t seed = 1; seed <= 300; ++seed) {
    PlacementSolverOptions options;
    options.work = 20'000;  // so little that many searches end with a bound
    const PlacementSolution found = solve_placement(enumeration::random_problem(seed), options);
    std::printf("%d\t%.9g\t%.9g\t%.9g\t%d\n", static_cast<int>(seed), static_cast<double>(found.best.worst),
                found.best.sum, static_cast<double>(found.worst_bound), static_cast<int>(found.status));
  }
}

}  // namespace

int main(int count, char** arguments) {
  const std::string what = count > 1 ? arguments[1] : "";
  if (what == "links" && count == 4) {
    print_site(std::string(arguments[2]) + "/sites/kiln-lane.yaml");
    print_site(std::string(arguments[3]) + "/prediction/plain_house.yaml");
    print_random_sites();
  } else if (what == "checks") {
    for (const auto& section : {validation::doorway_section(), validation::building_section(),
                                validation::reverberation_section()}) {
      std::cout << section.text << "\n";
    }
  } else if (what == "places") {
    print_places();
  } else {
    return 2;
  }
  return 0;
}
