#pragma once

#include "linkmargin/link/building/parts.hpp"
#include "linkmargin/site/site.hpp"

#include <memory>
#include <utility>
#include <vector>

namespace linkmargin {

class BoxIndex;
class PanelIndex;
struct SlabLevel;

/// What stands where and what it costs to pass at the site's frequency, with the index: what a line is traced
/// through. Read-only after construction; safe to share between threads. Keeps no reference to the site.
class Building {
 public:
  /// @param site sound: validate(site) is empty
  Building(const Site& site, Doors doors);

  Doors doors() const { return doors_; }
  const PropagationSettings& radio() const { return radio_; }  ///< with what the profiles leave open
  const std::vector<Barrier>& barriers() const { return parts_.barriers; }
  const std::vector<Panel>& panels() const { return parts_.panels; }
  const std::vector<Panel>& joints() const { return parts_.joints; }
  const std::vector<Wall>& walls() const { return parts_.walls; }
  const std::vector<WallLine>& wall_lines() const { return parts_.wall_lines; }
  const std::vector<Aperture>& apertures() const { return parts_.apertures; }
  const std::vector<Slab>& slabs() const { return parts_.slabs; }
  const std::vector<ObstaclePrism>& obstacles() const { return parts_.obstacles; }
  const std::vector<StoreySpace>& storeys() const { return parts_.storeys; }
  const std::vector<RoomSpace>& rooms() const { return parts_.rooms; }
  const PanelIndex& panel_index() const { return *panel_index_; }      ///< of panels(), storey by storey
  const BoxIndex& obstacle_index() const { return *obstacle_index_; }  ///< of obstacles()
  const std::vector<SlabLevel>& slab_levels() const { return *slab_levels_; }  ///< of slabs(), lowest first

  /// Whether a point lies in a room, or in the slab under or over one: half-open in plan (see contains()),
  /// both ends counting in height. Its plan coordinates are snapped first. A roof of no thickness ends at the
  /// ceiling: what stands on it is out of doors.
  bool indoors(Point3 p) const;

  /// What the reader of a result should know about the materials: used outside their frequency range, and so
  /// on.
  const std::vector<Warning>& warnings() const { return warnings_; }

 protected:
  void add_warning(Warning warning) { warnings_.push_back(std::move(warning)); }

 private:
  Doors doors_;
  PropagationSettings radio_;
  BuildingParts parts_;
  std::shared_ptr<const PanelIndex> panel_index_;
  std::shared_ptr<const BoxIndex> obstacle_index_;
  std::shared_ptr<const BoxIndex> room_index_;
  std::shared_ptr<const std::vector<SlabLevel>> slab_levels_;
  std::vector<Warning> warnings_;
};

}  // namespace linkmargin
