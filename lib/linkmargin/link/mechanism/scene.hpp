#pragma once

#include "linkmargin/link/building/building.hpp"

#include <memory>

namespace linkmargin {

class DetourGraph;
class DiffuseField;
struct Corners;

/// A building with what radio adds to it: its corners, the ways round, the field that its rooms scatter.
/// Read-only after construction; safe to share between threads. Keeps no reference to the site.
class Scene : public Building {
 public:
  /// @param site sound: validate(site) is empty
  /// @param threads >= 1; changes nothing in the result
  Scene(const Site& site, Doors doors, int threads = 1);

  /// Empty where the site's model counts no diffraction, and so is the graph of detours.
  const Corners& corners() const { return *corners_; }
  const DetourGraph& detour_graph() const { return *detour_graph_; }

  /// Empty where the site's model counts no reverberation.
  const DiffuseField& diffuse_field() const { return *diffuse_field_; }

 private:
  std::shared_ptr<const Corners> corners_;
  std::shared_ptr<const DetourGraph> detour_graph_;
  std::shared_ptr<const DiffuseField> diffuse_field_;
};

}  // namespace linkmargin
