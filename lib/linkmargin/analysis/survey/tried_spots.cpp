#include "linkmargin/analysis/survey/tried_spots.hpp"

#include "linkmargin/base/units.hpp"
#include "linkmargin/prediction/spot_reading.hpp"
#include "linkmargin/propagation/fading/spot_sequence.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace linkmargin {
namespace {

/// Nearer than this two spots are one.
constexpr double kSameSpotWavelengths = 1.0 / 16;

Point3 in_plane(double distance_m, double angle_deg) {
  const double angle = angle_deg * kPi / 180;
  return {distance_m * std::cos(angle), distance_m * std::sin(angle), 0};
}

/// Those of a trial that are not among the spots read. Which way a trial lies nobody knows who typed bare
/// readings; what was read as far from the present spot as a spot of the trial counts as that spot.
std::vector<Point3> not_read(const SpotTrial& trial, std::span<const TriedSpot> read, double lambda_m) {
  std::vector<Point3> left = spot_offsets_m(trial);
  const double same_m = kSameSpotWavelengths * lambda_m;
  for (const TriedSpot& spot : read) {
    const double from_m = distance(spot.offset_m, {});
    if (from_m < same_m) continue;
    const auto near = std::ranges::min_element(
        left, {}, [&](const Point3& other) { return distance(other, spot.offset_m); });
    if (near == left.end()) break;
    if (distance(*near, spot.offset_m) < same_m) {
      left.erase(near);
      continue;
    }
    const auto alike = std::ranges::find_if(
        left, [&](const Point3& other) { return std::abs(distance(other, {}) - from_m) < same_m; });
    if (alike != left.end()) left.erase(alike);
  }
  return left;
}

/// The next wider trial of a shape; null where there is none.
const SpotTrial* wider_than(const SpotSearch& search, const SpotTrial& trial) {
  for (const SpotTrial& other : search.trials) {
    if (other.shape == trial.shape && other.distance_m > trial.distance_m * (1 + 1e-9)) return &other;
  }
  return nullptr;
}

/// What spot_search() finds after the present spot alone was read.
SpotSearch first_search(const FadingModel& fading_model, const ReadingScale& scale, double frequency_hz,
                        const Link& link, double percent, const SpotSearchOptions& options) {
  const FadePosterior first = fade_posterior(fading_model, link, spot_reading(scale, link, percent));
  SpotSearchOptions shifted = options;
  shifted.may_turn = false;
  return spot_search(fading_model, scale, frequency_hz, link, &first, shifted);
}

}  // namespace

std::vector<Point3> spot_offsets_m(const SpotTrial& trial) {
  std::vector<Point3> offsets;
  switch (trial.shape) {
    case SpotShape::four:
      for (const double angle_deg : {180.0, 0.0, 90.0, 270.0})
        offsets.push_back(in_plane(trial.distance_m, angle_deg));
      break;
    case SpotShape::line: {
      const int a_side = (trial.spots - 1) / 2;
      for (const double angle_deg : {0.0, 180.0}) {
        for (int i = 1; i <= a_side; ++i)
          offsets.push_back(in_plane(trial.distance_m * i / a_side, angle_deg));
      }
      break;
    }
    case SpotShape::disc: {
      for (int ring = 1; static_cast<int>(offsets.size()) + 1 < trial.spots; ++ring) {
        for (int i = 0; i < 6 * ring; ++i)
          offsets.push_back(in_plane(ring * trial.step_m(), 60.0 * i / ring));
      }
      break;
    }
    case SpotShape::step:
      offsets.push_back(in_plane(trial.distance_m, 0));
      break;
  }
  return offsets;
}

std::vector<TriedSpot> spots_in_order(const FadingModel& fading_model, const ReadingScale& scale,
                                      double frequency_hz, const Link& link, std::span<const double> percents,
                                      const SpotSearchOptions& options) {
  if (percents.empty()) return {};
  const SpotSearch search = first_search(fading_model, scale, frequency_hz, link, percents.front(), options);
  std::vector<Point3> offsets_m{{}};
  for (const SpotTrial* trial = search.choice(); trial != nullptr; trial = wider_than(search, *trial)) {
    const std::vector<Point3> more = spot_offsets_m(*trial);
    offsets_m.insert(offsets_m.end(), more.begin(), more.end());
  }
  std::vector<TriedSpot> spots;
  for (std::size_t i = 0; i < std::min(percents.size(), offsets_m.size()); ++i)
    spots.push_back({offsets_m[i], percents[i]});
  return spots;
}

std::vector<TriedSpot> read_spots(const Site& site, const PresentReadings& readings, const Device& device) {
  const PresentReading* present = readings.find(device.name);
  if (present == nullptr) return {};
  std::vector<TriedSpot> read{{{}, present->percent}};
  const double farthest_m =
      (kFarthestWavelengths + kSameSpotWavelengths) * wavelength_m(site.radio.frequency_hz);
  const Point3 hangs = site.point(device.place);
  for (const ElsewhereReading& other : readings.elsewhere_of(device.name)) {
    const Point3 at = site.point(other.place);
    if (distance(at, hangs) <= farthest_m)
      read.push_back({{at.x - hangs.x, at.y - hangs.y, at.z - hangs.z}, other.percent});
  }
  return read;
}

std::optional<TriedSpots> tried_spots(const FadingModel& fading_model, const ReadingScale& scale,
                                      double frequency_hz, const Link& link, std::span<const TriedSpot> read,
                                      const SpotSearchOptions& options) {
  if (read.empty()) return {};
  const double lambda_m = wavelength_m(frequency_hz);
  const SpotSearch search =
      first_search(fading_model, scale, frequency_hz, link, read.front().percent, options);
  if (search.choice() == nullptr) return {};
  TriedSpots tried;
  tried.trial = *search.choice();
  for (const TriedSpot& spot : read) {
    std::erase_if(tried.read, [&](const TriedSpot& before) {
      return distance(before.offset_m, spot.offset_m) < kSameSpotWavelengths * lambda_m;
    });
    tried.read.push_back(spot);
  }
  const auto best = std::ranges::max_element(tried.read, {}, &TriedSpot::percent);
  tried.best = static_cast<std::size_t>(best - tried.read.begin());
  tried.reached = best->percent > 0 && best->percent >= scale.weak_below_percent;
  tried.left_m = not_read(tried.trial, tried.read, lambda_m);
  if (tried.left_m.empty()) {
    if (const SpotTrial* wider = wider_than(search, tried.trial)) {
      tried.trial = *wider;
      tried.wider = true;
      tried.left_m = not_read(tried.trial, tried.read, lambda_m);
    }
  }
  if (!tried.left_m.empty()) {
    const std::vector<Point3> all = spot_offsets_m(tried.trial);
    tried.next = static_cast<std::size_t>(std::ranges::find(all, tried.left_m.front()) - all.begin());
  }
  std::vector<SpotLevel> levels;
  for (const TriedSpot& spot : tried.read) {
    const SpotReading level = spot_reading(scale, link, spot.percent);
    levels.push_back({{spot.offset_m.x / lambda_m, spot.offset_m.y / lambda_m, spot.offset_m.z / lambda_m},
                      std::clamp(level.over_predicted.value, kReadingDb.min, kReadingDb.max),
                      level.kind});
  }
  std::vector<SpotOffset> left;
  for (const Point3& offset_m : tried.left_m)
    left.push_back({offset_m.x / lambda_m, offset_m.y / lambda_m, offset_m.z / lambda_m});
  const SpotSequence sequence(fading_model.scattering(), fading_model.k_db(link.loss),
                              std::clamp(link.sigma_db, kLeastSigmaDb, kLocalMeanSigmaDb.max), levels, left);
  const double needed_db = link.shortfall(scale).value;
  tried.shadow = sequence.shadow();
  tried.place_probability = sequence.shadow_reaches(needed_db);
  std::vector<double> reaches = sequence.first_to_reach(needed_db);
  if (!fading_model.fades()) std::ranges::fill(reaches, 0.0);
  const double own = std::accumulate(reaches.begin(), reaches.end(), 0.0);
  tried.next_probability = reaches.empty() ? 0 : way_probability(link, reaches.front());
  tried.pass_probability = way_probability(link, own);
  tried.worth = spots_worth_reading(reaches, kSpotCost);
  return tried;
}

}  // namespace linkmargin
