#include "linkmargin/exchange/dxf/dxf_blocks.hpp"

#include <cmath>
#include <unordered_map>
#include <utility>

namespace linkmargin::exchange::dxf {
namespace {

/// A map of the plane: columns of a matrix and a shift.
struct Affine {
  Point2 x_axis{1, 0};
  Point2 y_axis{0, 1};
  Point2 shift{0, 0};

  Point2 operator()(Point2 p) const { return p.x * x_axis + p.y * y_axis + shift; }
  Point2 turned(Point2 p) const { return p.x * x_axis + p.y * y_axis; }

  /// First `inner`, then this.
  Affine after(const Affine& inner) const {
    return {turned(inner.x_axis), turned(inner.y_axis), (*this)(inner.shift)};
  }
  /// How much larger lengths become, as the root of the area.
  double scale() const { return std::sqrt(std::abs(cross(x_axis, y_axis))); }
};

constexpr Affine kMirror{{-1, 0}, {0, 1}, {0, 0}};

Affine placed(const BlockReference& reference, Point2 base, int column, int row) {
  const double c = std::cos(reference.rotation_rad), s = std::sin(reference.rotation_rad);
  const Affine turn{{c, s}, {-s, c}, reference.at};
  const Point2 repeat{column * reference.spacing.x, row * reference.spacing.y};
  const Affine size{{reference.x_scale, 0}, {0, reference.y_scale}, repeat};
  return turn.after(size).after({{1, 0}, {0, 1}, Point2{} - base});
}

class Expander {
 public:
  Expander(const Contents& contents, Faults& faults) : contents_(contents), faults_(faults) {}

  Drawing expand() {
    put(contents_.model, {}, "", 0);
    return std::move(drawing_);
  }

 private:
  void put(const std::vector<Entity>& entities, const Affine& to, const std::string& block_layer, int depth) {
    for (const Entity& entity : entities) {
      if (!faults_.empty()) return;
      if (++count_ > kMostDrawn) {
        faults_.add({entity.line, 1}, DiagnosticCode::too_large, "",
                    "the drawing has more than " + std::to_string(kMostDrawn) +
                        " things, those in blocks counted as often as they are put in");
        return;
      }
      // What stands on layer 0 of a block lies on the layer that the block is put on.
      const std::string& layer = entity.layer == "0" && depth > 0 ? block_layer : entity.layer;
      const Affine whole = entity.mirrored ? to.after(kMirror) : to;
      if (contents_.hidden_layers.contains(layer)) {
        drop(DropReason::hidden_layer, entity.kind, layer);
      } else {
        put_one(entity, whole, layer, depth);
      }
    }
  }

  void put_one(const Entity& entity, const Affine& to, const std::string& layer, int depth) {
    if (const auto* poly = std::get_if<PolyShape>(&entity.shape)) {
      for (const ArcShape& arc : arcs_of(*poly)) put_arc(arc, flattened(arc), to, layer);
      line(flattened(*poly), poly->closed, poly->width * to.scale(), to, layer);
    } else if (const auto* arc = std::get_if<ArcShape>(&entity.shape)) {
      std::vector<Point2> points = flattened(*arc);
      put_arc(*arc, points, to, layer);
      line(std::move(points), false, 0, to, layer);
    } else if (const auto* text = std::get_if<TextShape>(&entity.shape)) {
      drawing_.texts.push_back({to(text->at), text->height * to.scale(), text->text, layer_of(layer)});
    } else if (const auto* reference = std::get_if<BlockReference>(&entity.shape)) {
      put_block(entity, *reference, to, layer, depth);
    } else {
      drop(std::get<OtherShape>(entity.shape).reason, entity.kind, layer);
    }
  }

  void put_arc(const ArcShape& arc, const std::vector<Point2>& points, const Affine& to,
               const std::string& layer) {
    drawing_.arcs.push_back({to(arc.centre), to(points.front()), to(points.back()), layer_of(layer)});
  }

  void put_block(const Entity& entity, const BlockReference& reference, const Affine& to,
                 const std::string& layer, int depth) {
    const auto block = contents_.blocks.find(reference.block);
    if (block == contents_.blocks.end()) {
      drop(DropReason::missing_block, entity.kind, layer);
      return;
    }
    if (depth >= kMostNesting) {
      faults_.add({entity.line, 1}, DiagnosticCode::too_large, "",
                  "block " + quoted(reference.block) + " is nested deeper than " +
                      std::to_string(kMostNesting) + " blocks",
                  "does a block hold itself?");
      return;
    }
    for (int row = 0; row < reference.rows; ++row) {
      for (int column = 0; column < reference.columns && faults_.empty(); ++column) {
        ++count_;
        put(block->second.entities, to.after(placed(reference, block->second.base, column, row)), layer,
            depth + 1);
      }
    }
  }

  void line(std::vector<Point2> points, bool closed, double width, const Affine& to,
            const std::string& layer) {
    for (Point2& p : points) {
      p = to(p);
      if (!(std::abs(p.x) <= kMostCoordinate && std::abs(p.y) <= kMostCoordinate)) return;
    }
    if (closed && points.size() > 1 && points.front() == points.back()) points.pop_back();
    if (points.size() < 2) return;
    drawing_.lines.push_back({std::move(points), closed, width, layer_of(layer)});
  }

  std::uint32_t layer_of(const std::string& name) {
    const auto [known, fresh] = layers_.emplace(name, static_cast<std::uint32_t>(drawing_.layers.size()));
    if (fresh) drawing_.layers.push_back(name);
    return known->second;
  }

  void drop(DropReason reason, const std::string& kind, const std::string& layer) {
    ++drawing_.dropped[{reason, kind, layer}];
  }

  const Contents& contents_;
  Faults& faults_;
  Drawing drawing_;
  std::unordered_map<std::string, std::uint32_t> layers_;
  std::size_t count_ = 0;
};

}  // namespace

Drawing expanded(const Contents& contents, Faults& faults) {
  return Expander(contents, faults).expand();
}

}  // namespace linkmargin::exchange::dxf
