#pragma once

#include <map>
#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace linkmargin {

/// A loss measured through a whole wall, door, pane, slab or body at one frequency, near normal incidence.
struct LossPoint {
  double frequency_hz = 0;
  double loss_db = 0;
  friend bool operator==(const LossPoint&, const LossPoint&) = default;
};

/// Points by rising frequency, at least one. Between two, the loss is interpolated over the logarithm of the
/// frequency; outside them the nearest holds, with a caution.
struct MeasuredLoss {
  std::vector<LossPoint> points;
  friend bool operator==(const MeasuredLoss&, const MeasuredLoss&) = default;
};

/// ITU-R P.2040: relative permittivity a f^b and conductivity c f^d S/m, f in GHz.
struct ElectricalProperties {
  double a = 1;
  double b = 0;
  double c = 0;
  double d = 0;
  double min_frequency_hz = 0;  ///< the range for which the source states them
  double max_frequency_hz = 0;
  friend bool operator==(const ElectricalProperties&, const ElectricalProperties&) = default;
};

/// One layer of a wall that is built up of several.
struct Layer {
  std::string material;  ///< one with electrical properties, or "air"
  double thickness_m = 0;
  friend bool operator==(const Layer&, const Layer&) = default;
};

/// Layers from one face to the other.
struct BuildUp {
  std::vector<Layer> layers;
  friend bool operator==(const BuildUp&, const BuildUp&) = default;
};

/// What was learned from readings of a material: its loss is that of the table and this, never under 0.
struct LearnedShift {
  double shift_db = 0;
  double sigma_db = 0;  ///< of the shift itself, one standard deviation
  int readings = 0;     ///< that it was learned from; 0: not said
  friend bool operator==(const LearnedShift&, const LearnedShift&) = default;
};

/// What walls, leaves, slabs and obstacles are made of, and what passing it costs.
struct Material {
  std::string name;
  std::variant<MeasuredLoss, ElectricalProperties, BuildUp> kind;
  double sigma_db = 0;           ///< spread (one standard deviation) of the loss of one such wall
  std::vector<std::string> use;  ///< of kMaterialUses; empty: any
  std::string source;            ///< publication, or "from memory", "common practice"
  std::string verified;          ///< how far the value was checked against its source
  std::string note;
  std::string group{};  ///< of kMaterialGroups: what it is picked among; empty: none
  /// What passes round its edges is added to what passes through. Absent: nothing more for a measured loss,
  /// which has it in it; the program's own figure for one that is computed.
  std::optional<double> leakage_db{};
  /// Share of a diffuse field's power that its face throws back: what echoes live on. Absent: computed from
  /// the layers; for a measured loss, the program's own figure.
  std::optional<double> reflects_percent{};
  /// By the readings of other sites. What a site's own readings show goes before it: learned_shift().
  std::optional<LearnedShift> learned{};
  friend bool operator==(const Material&, const Material&) = default;
};

/// What a material is made for, as the table names it.
inline const std::vector<std::string> kMaterialUses{"wall", "door", "glazing", "floor", "obstacle", "layer"};

/// What rows of a table are picked among, in the order in which they are told: rows of a group stand for
/// things that look alike.
inline const std::vector<std::string> kMaterialGroups{
    "light partition", "timber wall",    "brick wall",  "block wall",   "concrete wall",
    "stone wall",      "foil in a wall", "metal wall",  "fence",        "door",
    "metal door",      "plain glass",    "dense glass", "timber floor", "concrete floor",
    "metal floor",     "masonry body",   "machine",     "furniture",    "vehicle or person"};

/// By name. Names are compared as written.
using MaterialTable = std::map<std::string, Material>;

/// A material and, where it needs one, a thickness: what a wall, slab or leaf is made of.
struct Construction {
  std::string material;
  std::optional<double> thickness_m;
  friend bool operator==(const Construction&, const Construction&) = default;
};

/// The word for "nothing stands here".
inline constexpr const char* kNoMaterial = "none";

/// The gas between two layers: permittivity 1, conductivity 0.
inline constexpr const char* kAir = "air";

}  // namespace linkmargin
