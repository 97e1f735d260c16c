#include "linkmargin/link/scene.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/site/wall_plan.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <utility>

namespace linkmargin {

/// Turns the nouns of a site into the panels, plates and bodies of a scene.
class SceneBuilder {
 public:
  SceneBuilder(const Site& site, Scene& scene) : site_(site), scene_(scene) {}

  void build() {
    for (const Storey& storey : site_.storeys) {
      add_walls(storey);
      if (storey.floor) {
        const double half_m = storey.floor->thickness_m.value_or(0) / 2;
        add_plates(storey, *storey.floor, storey.level_m - half_m, "floor of " + storey.name);
      }
      if (storey.roof) {
        const double half_m = storey.roof->thickness_m.value_or(0) / 2;
        add_plates(storey, *storey.roof, storey.ceiling_m() + half_m, "roof over " + storey.name);
      }
      for (const Obstacle& obstacle : storey.obstacles) {
        if (obstacle.construction.material == kNoMaterial) continue;
        const double bottom_m = storey.level_m + obstacle.base_m;
        scene_.bodies_.push_back({obstacle.corners, bottom_m, bottom_m + obstacle.height_m,
                                  element(LossCause::obstacle, obstacle.name, obstacle.construction)});
      }
    }
    std::vector<Segment2> bases;
    bases.reserve(scene_.panels_.size());
    for (const Panel& panel : scene_.panels_) bases.push_back(panel.base);
    scene_.index_ = WallIndex(bases);
    say_out_of_range();
  }

 private:
  /// An opening on a piece of wall, by its place along it.
  struct Cut {
    double from;
    double to;
    const Opening* opening;
  };

  std::uint32_t element(LossCause cause, const std::string& name, const Construction& construction) {
    const Transmission& transmission = transmission_of(construction);
    std::string material = construction.material;
    const Material& entry = site_.materials.at(construction.material);
    if (construction.thickness_m && std::holds_alternative<ElectricalProperties>(entry.kind)) {
      material += " " + shortest_text(*construction.thickness_m) + " m";
    }
    scene_.elements_.push_back({cause, name, material, transmission});
    return static_cast<std::uint32_t>(scene_.elements_.size() - 1);
  }

  const Transmission& transmission_of(const Construction& construction) {
    const auto key = std::pair(construction.material, construction.thickness_m.value_or(0));
    const auto known = transmissions_.find(key);
    if (known != transmissions_.end()) return known->second;
    auto made = Transmission::of(construction, site_.materials, scene_.radio_.frequency_hz);
    out_of_range_.insert(made.out_of_range().begin(), made.out_of_range().end());
    return transmissions_.emplace(key, std::move(made)).first->second;
  }

  void add_walls(const Storey& storey) {
    const std::vector<WallPiece> plan = wall_plan(storey);
    std::vector<std::vector<Cut>> cuts(plan.size());
    for (std::size_t i = 0; i < storey.openings.size(); ++i) {
      if (const auto place = locate_opening(plan, storey, i)) {
        cuts[place->piece].push_back({place->from, place->to, &storey.openings[i]});
      }
    }
    for (std::size_t i = 0; i < plan.size(); ++i) {
      std::sort(cuts[i].begin(), cuts[i].end(), [](const Cut& a, const Cut& b) { return a.from < b.from; });
      add_piece(storey, plan[i], cuts[i]);
    }
  }

  static std::string wall_name(const WallPiece& piece) {
    if (!piece.traced.empty()) return piece.traced;
    if (piece.second == kOutside) return "outer wall of " + piece.first;
    return "wall between " + piece.first + " and " + piece.second;
  }

  /// A piece becomes a chain of panels whose joints are snapped, so that each ray meets the chain as one
  /// wall.
  void add_piece(const Storey& storey, const WallPiece& piece, const std::vector<Cut>& cuts) {
    std::optional<std::uint32_t> wall;
    if (piece.construction) wall = element(LossCause::wall, wall_name(piece), *piece.construction);
    const Point2 along = piece.line.b - piece.line.a;
    const double size = length(piece.line);
    const Point2 normal{-along.y / size, along.x / size};
    const double floor_m = storey.level_m;
    const double top_m = floor_m + piece.height_m;

    const auto add = [&](Segment2 base, double from_m, double to_m, std::optional<std::uint32_t> of) {
      if (of && base.a != base.b && from_m < to_m)
        scene_.panels_.push_back({base, from_m, to_m, normal, *of});
    };
    Point2 start = piece.line.a;
    for (const Cut& cut : cuts) {
      const Point2 from = snapped(at_fraction(piece.line, cut.from));
      const Point2 to = snapped(at_fraction(piece.line, cut.to));
      add({start, from}, floor_m, top_m, wall);
      const double sill_m = floor_m + cut.opening->sill_m;
      const double head_m = std::min(top_m, sill_m + cut.opening->height_m);
      add({from, to}, floor_m, sill_m, wall);
      add({from, to}, sill_m, head_m, leaf(*cut.opening));
      add({from, to}, head_m, top_m, wall);
      start = to;
    }
    add({start, piece.line.b}, floor_m, top_m, wall);
  }

  std::optional<std::uint32_t> leaf(const Opening& opening) {
    const bool stands_open = scene_.doors_ == Doors::open && opening.opens;
    if (stands_open || opening.leaf.material == kNoMaterial) return {};
    return element(LossCause::opening, opening.name, opening.leaf);
  }

  void add_plates(const Storey& storey, const Construction& slab, double z_m, const std::string& name) {
    if (slab.material == kNoMaterial) return;
    const std::uint32_t of = element(LossCause::floor, name, slab);
    for (const Room& room : storey.rooms) scene_.plates_.push_back({room.corners, z_m, of});
  }

  void say_out_of_range() {
    if (out_of_range_.empty()) return;
    std::string names;
    for (const std::string& name : out_of_range_) names += (names.empty() ? "" : ", ") + name;
    scene_.cautions_.push_back("used at " + shortest_text(mhz_from_hz(scene_.radio_.frequency_hz)) +
                               " MHz, outside the frequencies their figures are stated for: " + names);
  }

  const Site& site_;
  Scene& scene_;
  std::map<std::pair<std::string, double>, Transmission> transmissions_;
  std::set<std::string> out_of_range_;
};

Scene::Scene(const Site& site, Doors doors) : doors_(doors), radio_(site.radio) {
  SceneBuilder(site, *this).build();
}

}  // namespace linkmargin
