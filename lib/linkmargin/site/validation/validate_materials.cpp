#include "linkmargin/site/validation/checks.hpp"
#include "linkmargin/site/validation/electrical_flaw.hpp"

#include <set>

namespace linkmargin::checks {
namespace {

/// Looks at every construction of a site, and remembers which materials are used.
class ConstructionCheck {
 public:
  ConstructionCheck(const Site& site, Diagnostics& faults)
      : site_(site), faults_(faults), names_(keys(site.materials)) {}

  void look_at(const Construction& construction, const std::string& path, const std::string& thickness_key) {
    const std::string& name = construction.material;
    if (name.empty() || name == kNoMaterial) return;
    const auto material = site_.materials.find(name);
    if (material == site_.materials.end()) {
      if (name == kAir) {
        add(faults_, DiagnosticCode::misplaced, path, "'air' serves only as a layer",
            "'none' says that nothing stands there");
      } else {
        add_unknown(faults_, path, "material", name, names_);
      }
      return;
    }
    check_frequency(material->second);
    used_.insert(name);
    if (std::holds_alternative<ElectricalProperties>(material->second.kind) && !construction.thickness_m) {
      add(faults_, DiagnosticCode::missing_key, path,
          quoted(name) + " is given by its electrical properties and needs a " + thickness_key);
    }
  }

  void look_at(const std::optional<Construction>& construction, const std::string& parent) {
    if (construction) look_at(*construction, parent + "/material", "thickness_m");
  }

  /// Layers of a material that nothing uses may name what a site has replaced by a measured loss.
  void look_at_layers() {
    for (const auto& [name, material] : site_.materials) {
      const auto* build_up = std::get_if<BuildUp>(&material.kind);
      if (build_up == nullptr) continue;
      for (std::size_t i = 0; i < build_up->layers.size(); ++i) {
        look_at_layer(name, build_up->layers[i].material,
                      pointer({"materials", name, "layers", std::to_string(i), "of"}));
      }
    }
  }

 private:
  /// Outside the frequencies that a material states, its laws are taken on, as far as they give something
  /// that can be. Told once a material.
  void check_frequency(const Material& material) {
    const auto* electrical = std::get_if<ElectricalProperties>(&material.kind);
    if (electrical == nullptr || !checked_.insert(material.name).second) return;
    const auto flaw = electrical_flaw(*electrical, site_.radio.frequency_hz);
    if (flaw) {
      add(faults_, DiagnosticCode::impossible, pointer({"materials", material.name, "electrical", flaw->key}),
          quoted(material.name) + ": " + flaw->message, "state it for the site's frequency");
    }
  }

  void look_at_layer(const std::string& of, const std::string& layer, const std::string& path) {
    if (layer == kAir) return;
    const auto found = site_.materials.find(layer);
    if (found == site_.materials.end()) return add_unknown(faults_, path, "material", layer, names_);
    if (!used_.contains(of)) return;
    check_frequency(found->second);
    if (!std::holds_alternative<ElectricalProperties>(found->second.kind)) {
      add(faults_, DiagnosticCode::impossible, path,
          "a layer needs electrical properties, which " + quoted(layer) + " does not have",
          "layers are materials with 'electrical', or air");
    }
  }

  const Site& site_;
  Diagnostics& faults_;
  std::vector<std::string> names_;
  std::set<std::string> used_;
  std::set<std::string> checked_;
};

void look_at_storey(const Storey& storey, ConstructionCheck& check) {
  const std::string path = pointer({"storeys", storey.name});
  check.look_at(storey.floor, path + "/floor");
  check.look_at(storey.roof, path + "/roof");
  for (const Room& room : storey.rooms) {
    check.look_at(room.roof, path + pointer({"rooms", room.name, "roof"}));
    check.look_at(room.floor, path + pointer({"rooms", room.name, "floor"}));
  }
  check.look_at(std::optional(storey.outer_wall), path + "/outer_wall");
  check.look_at(std::optional(storey.inner_wall), path + "/inner_wall");
  std::set<std::string> own;  // each told once, of however many walls it is
  for (std::size_t i = 0; i < storey.boundaries.size(); ++i) {
    const Boundary& boundary = storey.boundaries[i];
    if (!boundary.own_key.empty() && !own.insert(boundary.own_key).second) continue;
    check.look_at(std::optional(boundary.construction),
                  path + (boundary.own_key.empty() ? "/boundaries/" + std::to_string(i) : boundary.own_key));
  }
  for (const TracedWall& wall : storey.walls) {
    check.look_at(std::optional(wall.construction), path + pointer({"walls", wall.name}));
  }
  for (const Opening& opening : storey.openings) {
    check.look_at(opening.leaf, path + pointer({"openings", opening.name, "leaf"}), "leaf_thickness_m");
  }
  for (const Obstacle& obstacle : storey.obstacles) {
    check.look_at(std::optional(obstacle.construction), path + pointer({"obstacles", obstacle.name}));
  }
}

}  // namespace

void check_materials(const Site& site, Diagnostics& faults) {
  ConstructionCheck check(site, faults);
  for (const Storey& storey : site.storeys) look_at_storey(storey, check);
  check.look_at_layers();
}

}  // namespace linkmargin::checks
