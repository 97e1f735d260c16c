#pragma once

#include "linkmargin/base/units.hpp"
#include "linkmargin/geometry/polygon.hpp"

#include <cstddef>
#include <map>
#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace linkmargin {

/// e.r.p. is relative to a half-wave dipole, e.i.r.p. to an isotropic antenna; conducted power is at the
/// antenna port, and the profile's gain is added to it.
struct TransmitPower {
  enum class Kind { erp, eirp, conducted };
  Kind kind = Kind::erp;
  Dbm value;
  friend bool operator==(const TransmitPower&, const TransmitPower&) = default;
};

/// What gives a receiver's sensitivity when the data sheet does not.
struct ReceiverNoise {
  double bandwidth_hz = 0;
  double noise_figure_db = 0;
  double required_snr_db = 0;
  friend bool operator==(const ReceiverNoise&, const ReceiverNoise&) = default;
};

/// What a kind of radio is screwed to: a wall, a ceiling, or the frame of the opening that it watches.
enum class MountingSurface { wall, ceiling, frame, floor };

/// A kind of radio.
struct Profile {
  std::string name;
  std::optional<TransmitPower> transmit;
  double gain_dbi = 0;
  std::variant<std::monostate, Dbm, ReceiverNoise> sensitivity;  ///< monostate: it does not receive
  bool two_way = false;
  double mount_loss_db = 0;
  double body_loss_db = 0;
  double sigma_db = 0;       ///< how far such radios differ from these figures, one standard deviation
  double reserve_db = 0;     ///< over the receiver's sensitivity, that the rules for such radios ask for
  std::string device_class;  ///< which of a hub's slots it takes; empty: none in particular
  bool fixed_by_rule =
      false;  ///< its place is ruled by more than radio (smoke and heat detectors, hold-up buttons)
  std::optional<double> height_m{};         ///< where such radios are usually fixed, above the floor
  std::optional<double> below_ceiling_m{};  ///< the same under the ceiling
  MountingSurface mounted_on = MountingSurface::wall;
  bool may_turn = false;  ///< works as well turned by a quarter: it watches no side
  std::string source;
  std::string note;
  bool built_in = false;  ///< a row of the program's own table, as it stands there
  friend bool operator==(const Profile&, const Profile&) = default;
};

/// Kinds of radio by name.
using ProfileTable = std::map<std::string, Profile>;

/// Where a radio is fixed.
struct Placement {
  std::size_t storey = 0;  ///< position in Site::storeys
  Point2 at;
  double height_m = 0;  ///< above the storey's floor
  friend bool operator==(const Placement&, const Placement&) = default;
};

/// What a radio is fixed on or near. Absent: nothing that its profile's mounting loss does not cover.
struct Mount {
  enum class On { metal };
  On on = On::metal;
  double gap_m = 0;                 ///< from the metal to the middle of the antenna
  std::optional<double> faces_deg;  ///< where in plan the metal faces the room, counter-clockwise from x
  friend bool operator==(const Mount&, const Mount&) = default;
};

/// How far a radio may be moved. Absent: it stays.
struct Mobility {
  /// Anywhere within this distance, metres.
  struct Radius {
    double radius_m;
    friend bool operator==(const Radius&, const Radius&) = default;
  };
  /// Anywhere on a line of the plan.
  struct Along {
    std::vector<Point2> line;
    friend bool operator==(const Along&, const Along&) = default;
  };
  /// Anywhere in a room.
  struct WithinRoom {
    std::string room;
    friend bool operator==(const WithinRoom&, const WithinRoom&) = default;
  };
  /// Anywhere within these corners.
  struct Within {
    Polygon2 corners;
    friend bool operator==(const Within&, const Within&) = default;
  };
  std::variant<Radius, Along, WithinRoom, Within> reach;
  friend bool operator==(const Mobility&, const Mobility&) = default;
};

/// The slots that a hub has for devices: a total, or some for each class.
struct Capacity {
  std::optional<int> total;
  std::map<std::string, int> by_class;  ///< "others" serves every class that is not named

  /// Whether it has slots of a class at all; of devices without a class, where that is empty.
  bool serves(const std::string& device_class) const {
    return by_class.empty() || by_class.contains(device_class) || by_class.contains("others");
  }

  friend bool operator==(const Capacity&, const Capacity&) = default;
};

/// What `via` says of a radio that no repeater may serve. No repeater has this name.
inline constexpr const char* kDirect = "direct";

/// How far from its socket a mains-fed radio hangs where nothing else is said: the lead of a plug-in supply
/// (common practice).
inline constexpr double kUsualCableM = 1.5;

/// The control unit that devices are enrolled with, and its slots.
struct Hub {
  std::string name;
  std::string profile;
  Placement place;
  std::optional<Capacity> capacity{};
  std::optional<Mobility> may_move{};
  double cable_m = kUsualCableM;  ///< from a socket, along the wall in plan
  std::optional<Mount> mount{};
  bool fixed = false;  ///< it stays, whatever else is placed
  friend bool operator==(const Hub&, const Hub&) = default;
};

/// What may be enrolled at a repeater, slots and classes apart (Capacity).
enum class RepeaterServes { all, devices, areas };

/// Passes on what it receives, to a hub or to another repeater.
struct Repeater {
  std::string name;
  std::string profile;
  Placement place;
  std::optional<Capacity> capacity{};  ///< of what is enrolled at it; absent: not said
  std::optional<std::string> hub{};    ///< the hub that it is enrolled to; absent: the best
  std::optional<std::string> via{};    ///< the repeater that it is enrolled at, or kDirect; absent: the best
  RepeaterServes serves = RepeaterServes::all;
  std::optional<Mobility> may_move{};
  double cable_m = kUsualCableM;  ///< from a socket, along the wall in plan
  std::optional<Mount> mount{};
  bool fixed = false;  ///< it stays, whatever else is placed
  friend bool operator==(const Repeater&, const Repeater&) = default;
};

/// What a hub must receive: a detector, a contact, a siren, a keypad.
struct Device {
  std::string name;
  std::string profile;
  Placement place;
  int slots = 1;
  std::optional<std::string> hub{};  ///< the hub it is enrolled to; absent: the best
  std::optional<std::string> via{};  ///< the repeater it is enrolled at, or kDirect; absent: the best way
  std::optional<Mobility> may_move{};
  std::optional<double> mount_loss_db{};  ///< instead of the profile's
  std::optional<double> body_loss_db{};   ///< instead of the profile's
  std::string note{};
  std::optional<Mount> mount{};
  friend bool operator==(const Device&, const Device&) = default;
};

/// Where hand-held remotes are used.
struct Area {
  std::string name;
  std::string profile;
  std::size_t storey = 0;
  Polygon2 corners;
  double height_m = 1;
  double share_percent = 95;  ///< of the area from which a press must be heard
  int slots = 1;
  std::optional<std::string> hub{};
  friend bool operator==(const Area&, const Area&) = default;
};

}  // namespace linkmargin
