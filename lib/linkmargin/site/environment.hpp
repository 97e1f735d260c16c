#pragma once

#include "linkmargin/base/enum_name.hpp"
#include "linkmargin/base/length_unit.hpp"
#include "linkmargin/base/range.hpp"
#include "linkmargin/base/units.hpp"

#include <optional>
#include <string>
#include <vector>

namespace linkmargin {

/// By what formula a path loss is found; docs/site-file/radio.md says which counts what.
enum class PathLossModel { free_space, log_distance, walls, multi_wall, site_general };

/// Which edition's form the site-general model takes.
enum class SiteGeneralForm { coefficients, power_loss };

/// Which published noise of machines, mains and traffic surrounds the receivers.
enum class NoiseArea { none, business };

/// What stands round the building: something across a street all along it, or nothing that throws anything
/// back.
enum class Surroundings { street, open };

/// What a person measured the building with.
struct Units {
  LengthUnit length = LengthUnit::metre;
  friend bool operator==(const Units&, const Units&) = default;
};

/// Whose rules on licence-exempt radio hold at the site; `none`: not to be looked at.
enum class Region { none, eu, us };

/// As they are written in a site file.
inline constexpr EnumName<PathLossModel> kModelWords[] = {{"free_space", PathLossModel::free_space},
                                                          {"log_distance", PathLossModel::log_distance},
                                                          {"walls", PathLossModel::walls},
                                                          {"multi_wall", PathLossModel::multi_wall},
                                                          {"site_general", PathLossModel::site_general}};
inline constexpr EnumName<SiteGeneralForm> kFormWords[] = {{"coefficients", SiteGeneralForm::coefficients},
                                                           {"power_loss", SiteGeneralForm::power_loss}};
inline constexpr EnumName<NoiseArea> kNoiseAreaWords[] = {{"none", NoiseArea::none},
                                                          {"business", NoiseArea::business}};
inline constexpr EnumName<Surroundings> kSurroundingsWords[] = {{"street", Surroundings::street},
                                                                {"open", Surroundings::open}};
inline constexpr EnumName<Region> kRegionWords[] = {
    {"eu", Region::eu}, {"us", Region::us}, {"none", Region::none}};
/// Fading::in_space.
inline constexpr EnumName<bool> kScatteringWords[] = {{"plane", false}, {"space", true}};

/// The rows of the model's published tables that `environment` may name; none for a model without one. A test
/// holds them equal to the tables of propagation/, which nouns cannot see.
std::vector<std::string> environment_names(PathLossModel model, SiteGeneralForm form);

/// How the building as a whole carries radio.
struct PropagationSettings {
  double frequency_hz = 868.3e6;
  PathLossModel model = PathLossModel::walls;
  std::optional<double> exponent;  ///< absent: the environment's, or the model's own
  std::string building_type;       ///< a row of the model's published table; empty: its default
  SiteGeneralForm form = SiteGeneralForm::coefficients;
  double constant_loss_db = 0;           ///< COST 231's Lc, multi_wall only
  std::optional<double> model_sigma_db;  ///< absent: the environment's, or the model's own
  /// What the profiles leave open of all levels: not of the file, set by radio_with_equipment().
  double equipment_sigma_db = 0;
  bool diffraction = true;
  bool reverberation = true;  ///< with routes: what the walls of rooms throw about
  Surroundings surroundings = Surroundings::street;
  double street_m = 20;  ///< across; assumption
  NoiseArea noise = NoiseArea::none;
  double noise_rise_db = 0;  ///< over what receiver and noise area give: measured or guessed for the site
  bool ground_reflection = false;  ///< counted on links with an end outside every room
  friend bool operator==(const PropagationSettings&, const PropagationSettings&) = default;
};

/// How much a level varies from spot to spot within a room, and with time: Rician fading, K being the steady
/// power over all other.
struct Fading {
  bool on = true;                         ///< off: chances and intervals hold for the mean of many spots
  std::optional<double> k_in_sight_db{};  ///< from spot to spot; absent: as the link's own powers have it
  std::optional<double> k_behind_walls_db{};
  double k_over_time_db = 7;  ///< people move: 6.8 and 11 dB at 910 MHz (Bultitude 1987, from memory)
  bool in_space = true;       ///< waves arrive from all of space; else from all round
  friend bool operator==(const Fading&, const Fading&) = default;
};

/// How the equipment turns a level into a percentage. Side by side with its hub a device reads its maximum
/// (common practice): 100 % is what the built-in profiles bring from a metre away, rounded down. Own
/// assumption.
struct ReadingScale {
  Dbm zero{-105};
  Dbm full{-30};
  double weak_below_percent = 40;
  friend bool operator==(const ReadingScale&, const ReadingScale&) = default;
};

/// Whether the model adds what comes round corners and through openings: `walls` with diffraction on. The
/// other models' figures hold it already.
bool counts_diffraction(const PropagationSettings& radio);

/// Whether it adds what the walls of rooms scatter: where it counts diffraction, with reverberation on.
bool counts_reverberation(const PropagationSettings& radio);

}  // namespace linkmargin
