#include "linkmargin/link/mechanism/distance_model.hpp"
#include "linkmargin/link/radio/noise_rise.hpp"
#include "linkmargin/prediction/link_table.hpp"
#include "linkmargin/yaml/site/site_yaml.hpp"
#include "linkmargin/yaml/site/tables.hpp"
#include "linkmargin/yaml/tree/text_file.hpp"

#include "fixtures/site_fixture.hpp"
#include "fixtures/warnings.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <string>
#include <variant>
#include <vector>

using namespace linkmargin;

namespace {

constexpr double kFrequenciesMhz[] = {300, 433.92, 868.3, 915, 2440, 5800, 6000};

/// Whether a material's figures are stated for a frequency, by the rule of docs/site-file/materials.md:
/// measured ones half an octave beyond their points, computed ones within their range, layers each by itself.
bool stated(const Material& material, const MaterialTable& table, double frequency_hz) {
  if (const auto* measured = std::get_if<MeasuredLoss>(&material.kind)) {
    const double slack = std::pow(2, kNearOctaves);
    const double min_hz = measured->points.front().frequency_hz;
    const double max_hz = measured->points.back().frequency_hz;
    return min_hz == 0 || (frequency_hz >= min_hz / slack && frequency_hz <= max_hz * slack);
  }
  if (const auto* electrical = std::get_if<ElectricalProperties>(&material.kind)) {
    return frequency_hz >= electrical->min_frequency_hz && frequency_hz <= electrical->max_frequency_hz;
  }
  const auto& layers = std::get<BuildUp>(material.kind).layers;
  return std::ranges::all_of(layers, [&](const Layer& layer) {
    return layer.material == kAir || stated(table.at(layer.material), table, frequency_hz);
  });
}

bool says_out_of_range(const LinkTable& table) {
  return fixture::has(table.warnings, WarningCode::materials_out_of_band);
}

bool sound(const LinkBudget& way) {
  return std::isfinite(way.level.value) && std::isfinite(way.margin.value) && way.level.value < 60 &&
         way.level.value > -2000 && way.reading_percent >= 0 && way.reading_percent <= 100;
}

bool sound(const LinkTable& table) {
  return std::ranges::all_of(table.links, [](const Link& link) {
    return sound(link.uplink) && (!link.downlink || sound(*link.downlink)) &&
           std::isfinite(link.loss.sigma_db) && link.pass_probability >= 0 && link.pass_probability <= 1;
  });
}

Site demo(const std::filesystem::path& path) {
  const auto text = read_text_file(path);
  REQUIRE(text);
  auto site = parse_site(*text, path.filename().string(), embedded_tables());
  REQUIRE(site);
  return std::move(site.value());
}

std::vector<std::filesystem::path> demos() {
  std::vector<std::filesystem::path> paths{LINKMARGIN_DATA "/starter.yaml"};
  for (const auto& entry : std::filesystem::directory_iterator(LINKMARGIN_DATA "/sites")) {
    const bool runs = entry.path().stem().string().ends_with("-what-if");
    if (entry.path().extension() == ".yaml" && !runs) paths.push_back(entry.path());
  }
  std::ranges::sort(paths);
  return paths;
}

}  // namespace

TEST_CASE("every material of the table serves from 300 MHz to 6 GHz, and cautions where it is not stated") {
  const MaterialTable& table = embedded_tables().materials;
  REQUIRE(table.size() >= 45);
  std::size_t cautioned = 0, plain = 0;
  for (const auto& [name, material] : table) {
    const auto& name_shown = name;
    CAPTURE(name_shown);
    Site site = fixture::two_rooms();
    site.materials = table;
    site.storeys[0].outer_wall = {kNoMaterial, {}};
    const bool electrical = std::holds_alternative<ElectricalProperties>(material.kind);
    site.storeys[0].inner_wall = {name, electrical ? std::optional<double>(0.1) : std::nullopt};
    CHECK(validate(site).empty());
    for (const double frequency_mhz : kFrequenciesMhz) {
      CAPTURE(frequency_mhz);
      site.radio.frequency_hz = frequency_mhz * 1e6;
      const LinkTable result = link_table(site);
      CHECK(sound(result));
      const bool expected = !stated(material, table, site.radio.frequency_hz);
      CHECK(says_out_of_range(result) == expected);
      (expected ? cautioned : plain) += 1;
    }
  }
  MESSAGE("materials " << table.size() << ", runs with a caution " << cautioned << ", without " << plain);
  CHECK(cautioned > 50);
  CHECK(plain > 50);
}

TEST_CASE("the demo sites run at every frequency, by every model, armed and open") {
  const auto paths = demos();
  REQUIRE(paths.size() >= 3);
  for (const auto& path : paths) {
    CAPTURE(path.filename().string());
    Site site = demo(path);
    const std::size_t devices = site.devices.size();
    for (const double frequency_mhz : kFrequenciesMhz) {
      CAPTURE(frequency_mhz);
      site.radio.frequency_hz = frequency_mhz * 1e6;
      for (const PathLossModel model :
           {PathLossModel::free_space, PathLossModel::log_distance, PathLossModel::walls,
            PathLossModel::multi_wall, PathLossModel::site_general}) {
        site.radio.model = model;
        CAPTURE(static_cast<int>(model));
        CHECK(validate(site).empty());
        for (const Doors doors : {Doors::armed, Doors::open}) {
          LinkTableOptions options;
          options.doors = doors;
          options.area_step_m = 4;
          const LinkTable result = link_table(site, options);
          CHECK(result.links.size() == devices);
          CHECK(sound(result));
          const Scene scene(site, doors);
          const bool expected = std::ranges::any_of(
              scene.barriers(), [](const Barrier& one) { return !one.transmission.out_of_range().empty(); });
          CHECK(says_out_of_range(result) == expected);
        }
      }
    }
  }
}

TEST_CASE("noise and ground reflection run at every frequency too") {
  Site site = demo(LINKMARGIN_DATA "/sites/kiln-lane.yaml");
  site.radio.noise = NoiseArea::business;
  site.radio.ground_reflection = true;
  for (const double frequency_mhz : kFrequenciesMhz) {
    CAPTURE(frequency_mhz);
    site.radio.frequency_hz = frequency_mhz * 1e6;
    LinkTableOptions options;
    options.area_step_m = 4;
    const LinkTable result = link_table(site, options);
    CHECK(sound(result));
    const bool published = frequency_mhz >= 200 && frequency_mhz <= 900;  // ITU-R P.372-8, business area
    for (const Link& link : result.links) CHECK((link.uplink.noise_rise > Db{0}) == published);
    CHECK(fixture::has(result.warnings, WarningCode::noise_not_stated) == !published);
  }
}
