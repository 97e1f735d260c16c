#pragma once

#include "linkmargin/site/material.hpp"

#include <map>
#include <optional>
#include <string>
#include <vector>

namespace linkmargin {

/// What was learned of one radio: two of a kind are never quite alike, nor are two mountings.
struct LearnedRadio {
  double offset_db = 0;  ///< added to every level of its links, both directions, on top of what all have
  double sigma_db = 0;   ///< how sure it is, one standard deviation
  friend bool operator==(const LearnedRadio&, const LearnedRadio&) = default;
};

/// What was learned of a site from its readings. Every later level, chance and range counts with it.
struct Calibration {
  double offset_db = 0;  ///< added to every level, both directions: equipment, mounting, all that is common
  double offset_sigma_db = 0;
  double exponent_sigma = 0;                        ///< of Environment::exponent
  double zero_sigma_db = 0;                         ///< of ReadingScale::zero
  double full_sigma_db = 0;                         ///< of ReadingScale::full
  std::map<std::string, LearnedShift> materials{};  ///< by name
  std::map<std::string, LearnedRadio> radios{};     ///< hubs, repeaters and devices by name

  /// How two of the parameters go together.
  struct Correlation {
    std::string first;  ///< of parameters()
    std::string second;
    double value = 0;  ///< limits::kCorrelation
    friend bool operator==(const Correlation&, const Correlation&) = default;
  };
  std::vector<Correlation> correlations{};  ///< pairs that are not named: 0
  int readings = 0;                         ///< that it was learned from; 0: not said
  friend bool operator==(const Calibration&, const Calibration&) = default;
};

/// Something that readings can teach, and how sure it is.
struct LearnedParameter {
  std::string pointer;  ///< where its value stands in a site file: a JSON Pointer (RFC 6901)
  double sigma = 0;     ///< one standard deviation, in the unit of the value
};

inline constexpr const char* kOffsetPointer = "/calibration/offset_db";
inline constexpr const char* kExponentPointer = "/radio/exponent";
inline constexpr const char* kZeroPointer = "/reading/zero_dbm";
inline constexpr const char* kFullPointer = "/reading/full_dbm";

/// "/calibration/materials/brick/shift_db"
std::string shift_pointer(const std::string& material);

/// "/calibration/radios/hall motion/offset_db"
std::string radio_pointer(const std::string& radio);

/// Of the levels of a radio's links; 0 where nothing was learned of it.
double learned_radio_db(const std::optional<Calibration>& calibration, const std::string& radio);

/// Offset, exponent, zero, full, then the materials by name. Radios' own offsets are not among them: they go
/// together with nothing else.
std::vector<LearnedParameter> parameters(const Calibration& calibration);

/// What is learned of a material: by the site's own readings, else by those that its table brings along.
/// nullptr: nothing. A row of the site's own `materials` has replaced the table's, and what was learned of
/// that.
const LearnedShift* learned_shift(const std::optional<Calibration>& calibration, const Material& material);

}  // namespace linkmargin
