#pragma once

#include "linkmargin/base/range.hpp"

#include <cstddef>

/// What is accepted in a site, each bound once. The reader of files, the checks, the messages, the JSON
/// Schema's test and the documentation read these.
namespace linkmargin::limits {

inline constexpr Range kFrequencyMhz{300, 6000, "frequency_mhz", "the range the models were checked for"};
inline constexpr Range kExponent{1, 6, "exponent", "published indoor exponents lie between 1.4 and 5.4"};
inline constexpr Range kSigmaDb{0, 30, "sigma_db", "common practice"};
inline constexpr Range kLossDb{0, 150, "loss_db", "common practice"};
inline constexpr Range kConstantLossDb{-20, 40, "constant_loss_db", "common practice"};
inline constexpr Range kNoiseRiseDb{0, 60, "noise_rise_db", "common practice"};
inline constexpr Range kStreetM{2, 300, "street_m", "common practice"};
inline constexpr Range kNorthDeg{-360, 360, "north_deg", "common practice"};
inline constexpr Range kFadingKDb{-20, 20, "k_db", "from all but Rayleigh fading to a hardly felt one"};
inline constexpr Range kReadingLevelDbm{-150, 30, "level", "thermal noise to a transmitter's output"};
inline constexpr Range kReceivedDbm{-150, 10, "level_dbm",
                                    "thermal noise to a receiver beside its transmitter"};
inline constexpr Range kPercent{0, 100, "percent", "definition"};
inline constexpr Range kPowerDbm{-40, 36, "power", "short-range devices and licence-free bands"};
inline constexpr Range kGainDbi{-30, 20, "gain_dbi", "common practice"};
inline constexpr Range kSensitivityDbm{-150, -40, "sensitivity_dbm", "common practice"};
inline constexpr Range kBandwidthKhz{0.1, 20000, "bandwidth_khz", "common practice"};
inline constexpr Range kNoiseFigureDb{0, 30, "noise_figure_db", "common practice"};
inline constexpr Range kSnrDb{-40, 40, "required_snr_db", "common practice"};
inline constexpr Range kReserveDb{0, 40, "reserve_db", "bounds of this library"};
inline constexpr Range kBodyLossDb{0, 40, "loss", "common practice"};
inline constexpr Range kMountGapM{0.001, 1, "gap_m", "common practice"};
inline constexpr Range kBearingDeg{-360, 360, "faces_deg", "a turn either way"};
inline constexpr Range kLeakageDb{10, 120, "leakage_db", "a gap of a tenth of the wall, to none"};
inline constexpr Range kPlanCoordinateM{-2000, 2000, "coordinate", "a site of buildings"};
inline constexpr Range kRoomSideM{0.2, 300, "side of a room", "common practice"};
inline constexpr Range kGapM{0, 300, "gap_m", "common practice"};
inline constexpr Range kFromEndM{0, 300, "distance from the end of a wall", "common practice"};
inline constexpr Range kSpotM{-300, 300, "distance within a room", "common practice"};
inline constexpr Range kLevelM{-100, 500, "level_m", "common practice"};
inline constexpr Range kStoreyHeightM{0.5, 60, "height_m", "common practice"};
inline constexpr Range kThicknessM{0.0001, 3, "thickness_m", "common practice"};
inline constexpr Range kOpeningWidthM{0.05, 60, "width_m", "common practice"};
inline constexpr Range kHeightM{0.01, 60, "height_m", "common practice"};
inline constexpr Range kSillM{0, 60, "sill_m", "common practice"};
inline constexpr Range kRadioHeightM{-1, 100, "height_m", "common practice"};
inline constexpr Range kMoveM{0, 200, "radius_m", "common practice"};
inline constexpr Range kSlots{0, 1000, "slots", "common practice"};
inline constexpr Range kCapacity{0, 100000, "capacity", "common practice"};
inline constexpr Range kObstacleSideM{0.01, 300, "side of an obstacle", "common practice"};
inline constexpr Range kFloorOpeningSideM{0.05, 300, "side of a floor opening", "common practice"};
inline constexpr Range kAreaSideM{0.1, 2000, "side of an area", "a site of buildings"};
inline constexpr Range kCableM{0, 50, "cable_m", "common practice"};

// What readings may teach. Two parameters that go together more closely than kCorrelation are one.
inline constexpr Range kLearnedOffsetDb{-60, 60, "offset_db", "common practice"};
inline constexpr Range kLearnedShiftDb{-60, 60, "shift_db", "common practice"};
inline constexpr Range kExponentSigma{0, 3, "exponent_sigma", "common practice"};
inline constexpr Range kCorrelation{-0.999999, 0.999999, "correlation", "definition, the ends left out"};
inline constexpr Range kLearnedFrom{0, 1e6, "readings", "common practice"};

// What a material may state: wide enough for every row of ITU-R P.2040 (from memory), metal and wet ground
// included.
inline constexpr Range kMaterialFrequencyMhz{1, 1e6, "frequency_mhz",
                                             "ITU-R P.2040, its widest frequency range"};
inline constexpr Range kPermittivity{1, 1000, "a", "common practice"};
inline constexpr Range kConductivity{0, 1e9, "c", "a good metal has some 1e7 S/m"};
inline constexpr Range kFrequencyPower{-10, 10, "power of the frequency", "common practice"};

// How many of each: far more than a site needs, few enough that no check takes long.
inline constexpr Range kStoreys{1, 200, "storeys", "common practice"};
inline constexpr Range kHubs{1, 1000, "hubs", "common practice"};
inline constexpr Range kGridRows{1, 200, "rows of a grid", "common practice"};
inline constexpr Range kGridCells{1, 200, "cells of a row", "common practice"};
inline constexpr Range kRoomsBelow{1, 50, "rooms below", "common practice"};
inline constexpr Range kRooms{0, 2000, "rooms", "common practice"};
inline constexpr Range kFixtures{0, 5000, "boundaries, walls, openings, obstacles or floor openings",
                                 "common practice"};
inline constexpr Range kHops{0, 4, "hops", "common practice"};
inline constexpr Range kRadios{0, 20000, "repeaters, devices or areas", "common practice"};
inline constexpr Range kReadings{1, 20000, "readings", "common practice"};
inline constexpr Range kTableRows{0, 5000, "materials or profiles", "common practice"};
inline constexpr Range kCorners{3, 500, "corners", "common practice"};
inline constexpr Range kLinePoints{2, 500, "points of a line", "common practice"};
inline constexpr Range kLayers{1, 50, "layers", "common practice"};
inline constexpr Range kLossPoints{1, 100, "losses", "common practice"};
inline constexpr Range kClasses{1, 50, "classes", "common practice"};
inline constexpr Range kLearnedMaterials{0, 100, "learned materials", "common practice"};
inline constexpr Range kLearnedRadios{0, 41000, "learned radios", "all hubs, repeaters and devices"};
inline constexpr Range kCorrelations{0, 5356, "correlations", "all pairs of 104 parameters"};
inline constexpr Range kSockets{0, 100, "sockets", "common practice"};
inline constexpr Range kUses{0, 20, "uses", "common practice"};

/// Longest free text, in bytes.
inline constexpr std::size_t kMaxTextBytes = 2000;

}  // namespace linkmargin::limits
