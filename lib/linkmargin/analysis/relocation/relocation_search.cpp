#include "linkmargin/analysis/relocation/relocation_search.hpp"

#include "linkmargin/analysis/survey/spot_options.hpp"
#include "linkmargin/base/parallel.hpp"
#include "linkmargin/prediction/fitted_shadowing.hpp"
#include "linkmargin/prediction/reach.hpp"
#include "linkmargin/site/limits.hpp"
#include "linkmargin/site/validation/checks.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {

RelocationSearch::RelocationSearch(const Site& of, const RelocationOptions& asked)
    : site(of),
      options(asked),
      scene(of, asked.doors, asked.threads),
      mounting(of),
      hanging(of),
      nearby(fitted_shadowing(of, asked.readings, asked.doors, scene, asked.threads)),
      fading_model(of.fading),
      stations(linkmargin::stations(of, scene, fading_model, nearby)),
      bare(without_readings(stations)),
      table(link_table(
          of, {.doors = asked.doors, .readings = asked.readings, .nearby = nearby, .threads = asked.threads},
          scene, stations, fading_model)),
      links(of.devices.size()),
      predicted(of.devices.size()),
      present(of.devices.size()),
      answers(of.devices.size()),
      tried(of.devices.size()) {
  parallel_for(links.size(), options.threads, [&](std::size_t i) {
    predicted[i] = table.links[i];
    links[i] = read_of(i) == nullptr ? predicted[i] : serving_link(site, as_read(i), stations, fading_model);
    present[i] = expected(links[i]);
    if (const auto percent = read_percent(i))
      answers[i] = reading_verdict(fading_model, site.reading, site.radio.frequency_hz, predicted[i],
                                   *percent, centimetre_options(site, predicted[i]));
    const std::vector<TriedSpot> read = read_spots(site, table.present, site.devices[i]);
    if (read.size() > 1)
      tried[i] = tried_spots(fading_model, site.reading, site.radio.frequency_hz, predicted[i], read,
                             centimetre_options(site, predicted[i]));
  });
}

const PresentReading* RelocationSearch::read_of(std::size_t device) const {
  return table.present.find(site.devices[device].name);
}

Device RelocationSearch::as_read(std::size_t device) const {
  const PresentReading* reading = read_of(device);
  return reading == nullptr ? site.devices[device]
                            : linkmargin::as_read(site, site.devices[device], *reading, bare, fading_model);
}

std::optional<double> RelocationSearch::read_percent(std::size_t device) const {
  const PresentReading* reading = read_of(device);
  return reading == nullptr ? std::nullopt : std::optional(reading->percent);
}

Outcome RelocationSearch::outcome(std::size_t device) const {
  return table.links[device].outcome;
}

std::optional<FadePosterior> RelocationSearch::after_reading(std::size_t device) const {
  const auto percent = read_percent(device);
  if (!percent) return {};
  const Link& link = predicted[device];
  return fade_posterior(fading_model, link, spot_reading(site.reading, link, *percent));
}

ExpectedReading RelocationSearch::expected(const Link& link) const {
  return expected_reading(site, link, fading_model, {0, link.sigma_db});
}

bool RelocationSearch::may_shift(std::size_t device) const {
  const Device& of = site.devices[device];
  return site.profiles.at(of.profile).fixed_by_rule ? shifts_by_radius(of) : reach_m(of.may_move).has_value();
}

std::optional<SpotTrial> RelocationSearch::best_spots(std::size_t device, const Link& link,
                                                      const FadePosterior* after,
                                                      const Placement& place) const {
  if (!may_shift(device)) return {};
  const Device& of = site.devices[device];
  SpotSearchOptions spots = spot_options(of, site.profiles.at(of.profile), hanging.at(place));
  spots.asked_chance = options.chance;
  const SpotSearch found =
      spot_search(fading_model, site.reading, site.radio.frequency_hz, link, after, spots);
  return found.choice() == nullptr ? std::nullopt : std::optional(*found.choice());
}

std::optional<SpotTrial> RelocationSearch::present_spots(std::size_t device) const {
  const auto& further = tried[device];
  if (!further) {
    const auto posterior = after_reading(device);
    return best_spots(device, predicted[device], posterior ? &*posterior : nullptr,
                      site.devices[device].place);
  }
  if (!may_shift(device) || !further->goes_on()) return {};
  SpotTrial trial = further->trial;
  trial.read = trial.spots - static_cast<int>(further->left_m.size());
  trial.pass_probability = further->pass_probability;
  return trial;
}

std::optional<ElsewhereReading> RelocationSearch::good_place(std::size_t device) const {
  const Device& of = site.devices[device];
  if (stays_by_rule(of, site.profiles.at(of.profile))) return {};
  std::optional<ElsewhereReading> best;
  for (const ElsewhereReading& other : table.present.elsewhere_of(of.name)) {
    const bool enough_there = other.percent > 0 && other.percent >= site.reading.weak_below_percent;
    if (!enough_there || !reaches(site, of, other.place)) continue;
    if (!best || other.percent > best->percent) best = other;
  }
  return best;
}

void RelocationSearch::complete(Remedy& remedy, std::size_t device, const Link& link,
                                const Placement& place) const {
  remedy.expected = expected(link);
  remedy.enough = enough(remedy.expected->pass_probability);
  if (remedy.enough) return;
  const auto trial = best_spots(device, link, nullptr, place);
  if (!trial) return;
  const double chance = trial->pass_probability;
  if (!enough(chance) && chance < remedy.expected->pass_probability + kWorthChance) return;
  remedy.with_spots = trial;
  remedy.enough_with_spots = enough(chance);
}

PassSummary RelocationSearch::brief(const Link& link) const {
  return pass_summary(site, link, fading_model, {0, link.sigma_db});
}

std::vector<Warning> RelocationSearch::warnings() const {
  std::vector<Warning> all = all_site_warnings(site);
  for (const auto& more : {scene.warnings(), table.present.left_out})
    all.insert(all.end(), more.begin(), more.end());
  return all;
}

const std::vector<HubMove>& EquipmentPlaces::moves() {
  if (!moves_) moves_ = hub_moves(search_);
  return *moves_;
}

const std::vector<RepeaterPlace>& EquipmentPlaces::repeaters() {
  if (!repeaters_) repeaters_ = repeater_places(search_);
  return *repeaters_;
}

double spaced_gap_m(const Mount& mount) {
  constexpr double kAsWritten = 1e4;  // tenths of a millimetre
  return std::min(std::round((mount.gap_m + kSpacerM) * kAsWritten) / kAsWritten, limits::kMountGapM.max);
}

Edit spacer_edit(const SiteRadio& radio) {
  return {checks::pointer({radio.map, radio.name, "mount", "gap_m"}), spaced_gap_m(*radio.mount)};
}

std::optional<SpacedDevice> spaced_device(const RelocationSearch& search, std::size_t device) {
  Device raised = search.as_read(device);
  const double usual_db = search.site.profiles.at(raised.profile).mount_loss_db;
  if (raised.mount) {
    raised.mount->gap_m = spaced_gap_m(*raised.mount);
    return SpacedDevice{raised, spacer_edit(site_radio("devices", search.site.devices[device]))};
  }
  if (raised.mount_loss_db.value_or(usual_db) <= usual_db) return {};
  raised.mount_loss_db = usual_db;
  return SpacedDevice{raised, {checks::pointer({"devices", raised.name, "mount_loss_db"}), usual_db}};
}

}  // namespace linkmargin
