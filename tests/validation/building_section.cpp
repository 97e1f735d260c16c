#include "linkmargin/link/mechanism/scene.hpp"
#include "linkmargin/link/path_loss.hpp"
#include "linkmargin/propagation/path_loss/free_space.hpp"
#include "linkmargin/yaml/site/site_yaml.hpp"

#include "fixtures/published_table.hpp"
#include "sections.hpp"

#include <algorithm>
#include <cmath>
#include <fstream>
#include <iterator>
#include <map>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

namespace linkmargin::validation {
namespace {

using linkmargin::testing::PublishedTable;

/// A hub of a building as the solver had it.
struct Run {
  Site site;
  Scene scene;
  Point3 hub;
};

Run run_of(const std::string& name) {
  const std::string file = name.substr(0, name.find('_')) + ".yaml", hub = name.substr(name.find('_') + 1);
  std::ifstream in(std::string(LINKMARGIN_TEST_DATA) + "/validation/buildings/" + file);
  const std::string text{std::istreambuf_iterator<char>(in), {}};
  auto site = parse_site(text, file, embedded_tables());
  if (!site) throw std::runtime_error(file + " is unsound");
  const auto found = std::ranges::find(site->hubs, hub, &Hub::name);
  if (found == site->hubs.end()) throw std::runtime_error(file + ": no hub " + hub);
  const Point3 at = site->point(found->place);
  Scene scene(*site, Doors::armed);
  return {std::move(*site), std::move(scene), at};
}

/// Mean power of a square over what free space would give: at the middles of its quarters.
double excess_db(const Run& run, const PublishedTable::Row& row) {
  const auto storey = std::ranges::find(run.site.storeys, row.text("storey"), &Storey::name);
  if (storey == run.site.storeys.end()) throw std::runtime_error(row.where() + ": no such storey");
  const double z = storey->level_m + row.number("height_m");
  double power = 0;
  for (const double u : {0.25, 0.75}) {
    for (const double v : {0.25, 0.75}) {
      const Point3 to{row.number("x0_m") + u * (row.number("x1_m") - row.number("x0_m")),
                      row.number("y0_m") + v * (row.number("y1_m") - row.number("y0_m")), z};
      const double free_db = free_space_loss_db(distance(run.hub, to), run.site.radio.frequency_hz);
      power += std::pow(10, (free_db - path_loss(run.scene, run.hub, to).path_loss_db) / 10) / 4;
    }
  }
  return -10 * std::log10(power);
}

const std::vector<std::pair<std::string, std::string>>& runs() {
  static const std::vector<std::pair<std::string, std::string>> all{
      {"H1_T1", "brick house, two storeys, hub in the hall"},
      {"H1_T2", "the same, hub in the store"},
      {"H1f_T1", "the same furnished, hub in the hall"},
      {"H1f_T2", "the same furnished, hub in the store"},
      {"R1_T1", "two rooms of brick"},
      {"R2_T1", "two rooms of concrete under a roof of it"},
      {"R3_T1", "two rooms of plasterboard"},
      {"R4_T1", "two rooms behind metal foil, under a timber roof"}};
  return all;
}

/// Of the house behind metal foil, out of doors at 1.2 and 2.2 m.
constexpr double kEavesRmsLimitDb = 5;

constexpr std::size_t kBuildingRows = 2970;

constexpr const char* kBuildingText = R"(
    `buildings_fdtd.csv`: a field solver in three dimensions (FDTD, cells of 15 mm) on whole invented buildings, which
    stand in `tests/validation/buildings/` as the solver was given them. The mean power of squares of about 1 m2 over free space,
    over 852 to 884 MHz and over three orientations of each antenna; the program is asked at four points of each square.
    Positive: the program loses more than the solver, it is pessimistic.)";

}  // namespace

Section building_section() {
  const auto values = PublishedTable::read("buildings_fdtd.csv", kBuildingRows);
  Section section;
  std::vector<std::vector<std::string>> rows;
  Deviations eaves;
  for (const auto& [name, text] : runs()) {
    const Run run = run_of(name);
    std::map<std::string, Deviations> places;
    for (const auto& row : values.rows()) {
      if (row.text("run") != name) continue;
      const double found_db = excess_db(run, row), reference_db = row.number("excess_db");
      for (const std::string& place : {row.text("place"), std::string("all")}) {
        places[place].add(found_db, reference_db);
      }
      if (name == "R4_T1" && row.text("place") == "outside" && row.number("height_m") > 1) {
        eaves.add(found_db, reference_db);
      }
    }
    for (const char* place : {"hub room", "same storey", "other storey", "outside", "all"}) {
      if (!places.contains(place)) continue;
      const Deviations& of = places.at(place);
      rows.push_back({text, place, std::to_string(of.count()), with_sign(of.mean(), 1), decimals(of.rms(), 1),
                      decimals(of.worst(), 1)});
    }
  }
  section.kept = eaves.count() > 0 && eaves.rms() <= kEavesRmsLimitDb;
  section.text =
      "## Whole buildings in three dimensions\n\n" + paragraph(kBuildingText) +
      table({"building", "where", "squares", "mean dB", "rms dB", "worst dB"}, rows) +
      paragraph(
          "Behind metal foil under a timber roof most comes over the eaves: out of doors at 1.2 and 2.2 m " +
          decimals(eaves.rms(), 1) + " dB rms. Limit of " + decimals(kEavesRmsLimitDb, 0) +
          " dB kept: " + (section.kept ? "yes" : "**no**") + ".");
  return section;
}

}  // namespace linkmargin::validation
