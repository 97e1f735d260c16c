#include "linkmargin/site/limits.hpp"
#include "linkmargin/site/schema/member.hpp"
#include "linkmargin/site/site.hpp"

namespace linkmargin::schema {

using enum Presence;

template <>
std::span<const Field<Site>> fields() {
  static const Field<Site> rows[] = {
      {"site", own_name<&Site::name>(), required, "name of the place"},
      {"note", text<&Site::note>(), optional, "free text", "none"},
      {"units", Part{"units"}, optional, "what a figure for a length counts where it has no unit of its own"},
      {"north_deg", number<&Site::north_deg>(limits::kNorthDeg), optional,
       "which way north lies, clockwise from the plan's up (its y axis); plans then have an arrow",
       "not known"},
      {"region", word<kRegionWords, &Site::region>(), optional,
       "whose limits of radiated power are looked at for cautions; `none`: nobody's"},
      {"radio", Part{"radio"}, required, "frequency and model"},
      {"reading", Part{"reading"}, optional, "how the equipment shows a level"},
      {"fading", Part{"fading"}, optional, "how the level varies from spot to spot and with time, or `off`"},
      {"calibration", Part{"calibration"}, optional, "what was learned from readings of this site", "none"},
      {"materials", Part{"materials", &limits::kTableRows}, optional,
       "materials of this site, by name, beside the built-in table", "none"},
      {"profiles", Part{"profiles", &limits::kTableRows}, optional,
       "kinds of radio, by name, beside the built-in table", "none"},
      {"construction", Part{"house"}, optional,
       "how the house is built, such as `solid brick`: walls, floors and roof where they are not given",
       "none"},
      {"outer_wall", Part{"construction"}, optional, "walls with a room on one side, of all storeys",
       "the `construction`'s"},
      {"inner_wall", Part{"construction"}, optional, "walls between two rooms, of all storeys",
       "the `construction`'s"},
      {"measured", Part{"measured"}, optional,
       "where sizes of rooms count to, in all storeys: the `middle` of the walls, or `inside`, between the "
       "walls",
       "`middle`"},
      {"storeys", Part{"storeys", &limits::kStoreys}, required, "list of storeys, from the lowest up"},
      {"hops", number<&Site::hops>(limits::kHops), optional,
       "how many repeaters the system lets a link go by, one after the other"},
      {"hubs", Part{"hubs", &limits::kHubs}, required, "hubs of the alarm system, by name"},
      {"repeaters", Part{"repeaters", &limits::kRadios}, optional, "repeaters, by name", "none"},
      {"devices", Part{"devices", &limits::kRadios}, optional, "devices that the hubs must receive, by name",
       "none"},
      {"areas", Part{"areas", &limits::kRadios}, optional, "where hand-held remotes are used, by name",
       "none"}};
  return rows;
}

template <>
std::span<const Field<Units>> fields() {
  static const Field<Units> rows[] = {
      {"length", word<kLengthUnitWords, &Units::length>(), optional,
       "`m`, or `ft` for feet and inches; answers that people read are in it too"}};
  return rows;
}

template <>
std::span<const Field<PropagationSettings>> fields() {
  using Radio = PropagationSettings;
  static const Field<Radio> rows[] = {
      {"frequency_mhz", megahertz<&Radio::frequency_hz>(limits::kFrequencyMhz), required,
       "carrier frequency"},
      {"model", word<kModelWords, &Radio::model>(), optional, "path-loss model"},
      {"exponent", number<&Radio::exponent>(limits::kExponent), optional,
       "n in 10 n log10(distance), for `log_distance` and `walls`", "the model's"},
      {"environment", name<&Radio::building_type>(), optional,
       "`log_distance` and `site_general` only: a row of the model's published table", "the model's"},
      {"form", word<kFormWords, &Radio::form>(), optional,
       "`site_general` only: the newer (`coefficients`) or the older form of ITU-R P.1238"},
      {"constant_loss_db", number<&Radio::constant_loss_db>(limits::kConstantLossDb), optional,
       "`multi_wall` only: its constant term"},
      {"model_sigma_db", number<&Radio::model_sigma_db>(limits::kSigmaDb), optional,
       "spread that the model leaves unexplained, one standard deviation", "the model's"},
      {"diffraction", on_or_off<&Radio::diffraction>(), optional,
       "`walls` only: adds what arrives round edges and corners and through doorways; `off` counts the "
       "straight line "
       "alone"},
      {"reverberation", on_or_off<&Radio::reverberation>(), optional,
       "`walls` with `diffraction: on` only: adds reflections in closed rooms"},
      {"surroundings", word<kSurroundingsWords, &Radio::surroundings>(), optional,
       "with reflections: `street`, something stands opposite and throws power back from one room into "
       "another; "
       "`open`, nothing does"},
      {"street_m", number<&Radio::street_m>(limits::kStreetM), optional,
       "how far across, from the building to what stands opposite"},
      {"noise", word<kNoiseAreaWords, &Radio::noise>(), optional,
       "man-made noise at the receivers; `business` is a business area by ITU-R P.372 (200 to 900 MHz)"},
      {"noise_rise_db", number<&Radio::noise_rise_db>(limits::kNoiseRiseDb), optional,
       "further rise of the noise at every receiver, measured or guessed"},
      {"ground_reflection", on_or_off<&Radio::ground_reflection>(), optional,
       "counts the reflection by the ground on links with an end outdoors"}};
  return rows;
}

template <>
std::span<const Field<Fading>> fields() {
  static const Field<Fading> rows[] = {
      {"k_in_sight_db", number<&Fading::k_in_sight_db>(limits::kFadingKDb), optional,
       "K from spot to spot, where nothing stands in the straight line and reflections bring no more than "
       "it",
       "from what comes straight and by reflection, at most 7"},
      {"k_behind_walls_db", number<&Fading::k_behind_walls_db>(limits::kFadingKDb), optional,
       "K from spot to spot on every other link", "the same"},
      {"k_over_time_db", number<&Fading::k_over_time_db>(limits::kFadingKDb), optional,
       "K over time at one spot, while people move about; gives `outage`"},
      {"scattering", word<kScatteringWords, &Fading::in_space>(), optional,
       "where the other waves come from: all round, as between floor and ceiling, or from above and below "
       "too "
       "(`space`)"}};
  return rows;
}

template <>
std::span<const Field<ReadingScale>> fields() {
  using Scale = ReadingScale;
  static const Field<Scale> rows[] = {
      {"zero_dbm", number<&Scale::zero>(limits::kReadingLevelDbm), optional, "level shown as 0 %"},
      {"full_dbm", number<&Scale::full>(limits::kReadingLevelDbm), optional,
       "level shown as 100 %; must lie over `zero_dbm`"},
      {"weak_below_percent", number<&Scale::weak_below_percent>(limits::kPercent), optional,
       "under this reading, in either direction, a device is weak (default: common practice)"}};
  return rows;
}

}  // namespace linkmargin::schema
