#include "linkmargin/prediction/area_cover.hpp"

#include "linkmargin/link/fading_model.hpp"
#include "linkmargin/link/mechanism/distance_model.hpp"
#include "linkmargin/link/path_loss.hpp"
#include "linkmargin/prediction/serving/serving.hpp"
#include "linkmargin/propagation/fading/shadowing.hpp"

#include "fixtures/published_table.hpp"
#include "fixtures/site_fixture.hpp"

#include <doctest/doctest.h>

#include <cmath>

using namespace linkmargin;

namespace {

Area area_of(Polygon2 corners) {
  Area area;
  area.name = "drive";
  area.profile = "fob";
  area.corners = std::move(corners);
  area.share_percent = 95;
  return area;
}

Stations hubs_of(const Site& site, const Scene& scene) {
  std::vector<HubEndpoint> hubs;
  for (const Hub& hub : site.hubs) {
    const HubRadio end = hub_radio(site, hub);
    hubs.push_back({end, std::make_shared<const LinkEndpoint>(scene, end.at)});
  }
  return {std::move(hubs), {}};
}

}  // namespace

TEST_CASE("sample points lie inside, no further apart than asked, and never run away in number") {
  const Polygon2 wedge{{0, 0}, {6, 0}, {0, 3}};
  const auto points = sample_points(wedge, 0.25);
  CHECK(points.size() > 80);  // half of at most kMaxAreaPoints cells
  CHECK(points.size() <= kMaxAreaPoints);
  for (const Point2 p : points) CHECK(contains(wedge, p));
  CHECK(sample_points(rectangle({0, 0}, 1000, 1000), 0.25).size() <= kMaxAreaPoints);
  CHECK(sample_points({{0, 0}, {0.01, 0}, {0, 0.01}}, 0.25).size() == 1);  // thinner than any cell's centre
}

TEST_CASE("the share of an area is the mean chance over it") {
  // In sight of the hub: log-distance with exponent 2 over a strip, checked against direct integration on a
  // grid forty times finer.
  Site site = fixture::two_rooms();
  site.storeys[0].rooms.clear();
  site.reading = {.zero = Dbm{-105}, .full = Dbm{-35}, .weak_below_percent = 80};  // -49 dBm
  const Area area = area_of(rectangle({1, 2}, 12, 0.25));
  const Scene scene(site, Doors::armed);
  const AreaCover cover =
      area_cover(site, area, hubs_of(site, scene), FadingModel(site.fading), {.step_m = 0.25, .threads = 2});
  const RadioEnd fob = radio_end(site.profiles.at("fob"));
  const FadingModel fading_model(site.fading);
  const double z_m = 1;
  double sum = 0;
  constexpr int kSteps = 20'000;
  for (int i = 0; i < kSteps; ++i) {
    const double x = 1 + (i + 0.5) * 12 / kSteps;
    const double d = std::sqrt((x - 1) * (x - 1) + 0.125 * 0.125 + (z_m - 1.5) * (z_m - 1.5));
    const Dbm level = *fob.eirp - Db{6} - Db{31.2212 + 20 * std::log10(d)};
    // With 3 dB for the way that the bearer faces.
    sum += fading_model.chance(level, threshold_level(site.reading), std::hypot(kItemisedSigmaDb, 3),
                               kMostSpotKDb);
  }
  CHECK(std::abs(cover.share_percent - 100 * sum / kSteps) <= 0.1);
  CHECK(cover.share_percent > 5);
  CHECK(cover.share_percent < 95);
  CHECK(cover.weak);
  CHECK(cover.points == 48);
}

TEST_CASE("what the hub does not hear is not served, though the level is over the threshold") {
  Site site = fixture::two_rooms();
  site.profiles.at("hub").sensitivity = Dbm{0};
  const Scene scene(site, Doors::armed);
  const AreaCover cover = area_cover(site, area_of(rectangle({1, 2}, 2, 1)), hubs_of(site, scene),
                                     FadingModel(site.fading), {.step_m = 0.25, .threads = 2});
  CHECK(cover.share_percent < 0.001);
  CHECK(cover.worst_reading_percent == 0);
  CHECK(cover.weak);
}

TEST_CASE("of several hubs the one that covers most is named") {
  Site site = fixture::two_rooms();
  site.hubs.push_back(site.hubs[0]);
  site.hubs[1].name = "far hub";
  site.hubs[1].place.at = {300, 2};
  const Scene scene(site, Doors::armed);
  const AreaCover cover = area_cover(site, area_of(rectangle({1, -3}, 2, 2)), hubs_of(site, scene),
                                     FadingModel(site.fading), {.step_m = 0.25, .threads = 2});
  CHECK(cover.hub == "hub");
  CHECK(cover.wanted_percent == 95);
}

TEST_CASE("edge points lie on the outline, evenly, few enough") {
  const Polygon2 wedge{{0, 0}, {6, 0}, {0, 3}};  // an outline of 15.7 m
  const auto points = edge_points(wedge, 0.5);
  CHECK(points.size() == 32);
  for (const Point2 p : points) CHECK(distance_to_edges(wedge, p) <= 2e-4);
  for (std::size_t i = 0; i + 1 < points.size(); ++i) {
    CHECK(distance(points[i], points[i + 1]) <= 0.5);  // less across a corner
  }
  CHECK(edge_points(rectangle({0, 0}, 1000, 1000), 0.5).size() == kMaxEdgePoints);
  CHECK(edge_points({{0, 0}, {0.01, 0}, {0, 0.01}}, 0.5).size() == 1);
}

TEST_CASE("share and edge of a disc round the hub are those of the closed form") {
  // published.md 9: exponent, sigma, chance at the edge, share of the area.
  const auto table = testing::PublishedTable::read("area_coverage.csv", 4);
  for (const auto& row : table.rows()) {
    CAPTURE(row.where());
    Site site = fixture::two_rooms();
    site.storeys[0].rooms.clear();
    site.fading.on = false;
    site.radio.model = PathLossModel::log_distance;
    site.radio.exponent = row.number("exponent");
    site.radio.model_sigma_db = row.number("sigma_db");
    site.profiles.at("fob").body_loss_db = 0;  // no bearer
    site.hubs[0].place = {0, {0, 0}, 1};
    constexpr double kRadiusM = 50;
    Polygon2 disc;
    for (int i = 0; i < 180; ++i) {
      disc.push_back(snapped({kRadiusM * std::cos(i * kPi / 90), kRadiusM * std::sin(i * kPi / 90)}));
    }
    const Area area = area_of(disc);
    const Scene scene(site, Doors::armed);
    const auto hubs = hubs_of(site, scene);
    const LossBreakdown loss = path_loss(*hubs.hubs[0].from, {kRadiusM, 0, 1});
    const Dbm at_edge = *radio_end(site.profiles.at("fob")).eirp - Db{loss.path_loss_db};
    const double edge = row.number("edge_percent") / 100;
    const Dbm needed = at_edge - Db{log_normal_margin_db(edge, *site.radio.model_sigma_db)};
    site.reading = {.zero = Dbm{-400}, .full = Dbm{200}, .weak_below_percent = 0};
    site.reading.weak_below_percent = reading_percent(site.reading, needed);
    site.profiles.at("hub").sensitivity = Dbm{-400};
    const AreaCover cover =
        area_cover(site, area, hubs_of(site, scene), FadingModel(site.fading), {.step_m = 0.5, .threads = 2});
    CHECK(std::abs(cover.edge_share_percent - 100 * edge) <= 0.02);
    CHECK(std::abs(cover.share_percent - row.number("share_percent")) <= 0.3);  // 156 points
    // With a hand or body in the way both are less.
    site.profiles.at("fob").body_loss_db += 3;
    const AreaCover worn =
        area_cover(site, area, hubs_of(site, scene), FadingModel(site.fading), {.step_m = 0.5, .threads = 2});
    CHECK(worn.edge_share_percent < cover.edge_share_percent - 1);
    CHECK(worn.share_percent < cover.share_percent - 1);
  }
}
