#pragma once

#include "linkmargin/site/mounting/mounting_rules.hpp"
#include "linkmargin/site/site.hpp"

#include <memory>
#include <optional>
#include <vector>

/// Where in a building a radio can hang: what a person with a ladder and a drill would do.
namespace linkmargin {

class StoreyPlan;

/// A radio for which places are looked for.
struct MountingRequest {
  Placement place;  ///< where it hangs; of one to be added the storey and height alone count
  std::optional<Mobility> may_move{};  ///< absent: into every room of every storey
  MountingSurface surface = MountingSurface::wall;
  std::optional<double> cable_m{};  ///< of one that needs mains: how far it may be from a socket
  bool keeps_out = false;           ///< Room::keep_out holds for it
  bool hangs = true;                ///< it hangs at `place` now
};

/// What a hub or repeater asks for: near a socket, out of `keep_out`.
MountingRequest mounting_request(const Site& site, const Hub& radio);
/// The same of a repeater.
MountingRequest mounting_request(const Site& site, const Repeater& radio);
/// What a device asks for: what its profile is fixed on, within `may_move`; no socket.
MountingRequest mounting_request(const Site& site, const Device& device);

/// What stands where a radio could hang, of all storeys.
class MountingPlaces {
 public:
  /// @param site sound (validate(site) is empty); outlives this
  explicit MountingPlaces(const Site& site);
  ~MountingPlaces();

  /// Every place for a radio, `step_m` apart along each face of a wall, on each ceiling, round the frame.
  ///
  /// - On a wall: kMountedOffM off a face that holds a screw (no glass, no fence), kBeforeMetalM before a
  /// sheet
  ///   of metal, kCornerClearM from corners, clear of openings, of what their leaves sweep and of obstacles.
  ///   What needs mains keeps kMainsOpeningClearM from openings and off pieces of wall under kLeastPierM. The
  ///   height stays, or is under the ceiling of a lower storey.
  /// - On a ceiling: kCeilingClearM off the walls, in a small room as far as that goes.
  /// - On a floor: kFloorClearM off the walls.
  /// - On a frame: beside and over the opening within kFrameReachM of the radio, on the radio's side.
  /// - `along_m` is taken for a line on which it can be fixed: only what is in the way is left out.
  /// - Not in a wet room (is_wet()), unless it hangs in that room; not in a room that is kept out of.
  /// - In a room whose `sockets` are known, within `cable_m` of one along the walls.
  /// - On a site without rooms: on both faces of the traced walls.
  ///
  /// Where it hangs now is not among them unless it is such a place.
  /// @param step_m  > 0; in a ceiling's grid wider where there would be over kMostCeilingPlaces in one room
  std::vector<Placement> find(const MountingRequest& request, double step_m) const;

 private:
  std::vector<std::unique_ptr<const StoreyPlan>> storeys_;
  const Site& site_;
};

inline constexpr std::size_t kMostCeilingPlaces = 20'000;

}  // namespace linkmargin
