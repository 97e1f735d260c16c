#include "linkmargin/exchange/geojson/geojson_drawing.hpp"

#include "linkmargin/base/letter_case.hpp"
#include "linkmargin/base/number_text.hpp"
#include "linkmargin/exchange/geojson/json_tree.hpp"
#include "linkmargin/geometry/box.hpp"
#include "linkmargin/text/line_counter.hpp"
#include "linkmargin/text/text_decoding.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace linkmargin::exchange {
namespace {

using json::Value;

/// Levels of one file; a building has no more storeys.
constexpr std::size_t kMostLevelsOfFile = 200;

/// A plan of a building in degrees is smaller than this, one in metres is larger.
constexpr double kDegreesAcross = 0.05;

class GeoJsonReader {
 public:
  GeoJsonReader(std::string_view text, Faults& faults) : lines_(text), faults_(faults) {}

  std::vector<Drawing> read(const Value& root) {
    const std::string_view type = root.text_of("type");
    if (type == "FeatureCollection") {
      const Value* const features = root.find("features");
      if (features == nullptr || features->kind != Value::Kind::list) {
        fault(root, DiagnosticCode::missing_key, "a FeatureCollection without its list of features");
      } else {
        for (const Value& one : features->items) feature(one);
      }
    } else if (type == "Feature") {
      feature(root);
    } else {
      fault(root, DiagnosticCode::wrong_type, "expected a FeatureCollection (RFC 7946)");
    }
    std::ranges::stable_sort(levels_, {}, [](const Level& level) {
      return level.drawing.level_m ? *level.drawing.level_m : level.order;
    });
    std::vector<Drawing> drawings;
    for (Level& level : levels_) drawings.push_back(std::move(level.drawing));
    if (faults_.empty() && drawings.empty())
      fault(root, DiagnosticCode::missing_key, "the file has no feature");
    return drawings;
  }

 private:
  struct Level {
    Drawing drawing;
    double order = 0;  // by number where the level is one, else as it comes
  };

  void fault(const Value& at, DiagnosticCode code, const std::string& message, std::string hint = {}) {
    faults_.add(lines_.at(at.position), code, "", message, std::move(hint));
  }

  Drawing& level_of(const Value* properties) {
    const Value* const level = properties != nullptr ? properties->find("level") : nullptr;
    std::string name;
    double order = static_cast<double>(levels_.size());
    if (level != nullptr && level->kind == Value::Kind::text) name = level->text;
    if (level != nullptr && level->kind == Value::Kind::number) {
      name = shortest_text(level->number);
      order = level->number;
    }
    const auto known =
        std::ranges::find_if(levels_, [&](const Level& one) { return one.drawing.level == name; });
    Drawing* drawing = nullptr;
    if (known != levels_.end()) {
      drawing = &known->drawing;
    } else {
      if (levels_.size() >= kMostLevelsOfFile && faults_.empty())
        fault(*level, DiagnosticCode::too_large, "the file has more than 200 levels");
      drawing = &levels_.emplace_back(Level{.drawing = {}, .order = order}).drawing;
      drawing->level = name;
      drawing->unit_m = 1;
    }
    if (properties == nullptr) return *drawing;
    if (const auto level_m = number(properties->find("level_m"))) drawing->level_m = level_m;
    if (const auto height_m = number(properties->find("height_m"))) drawing->height_m = height_m;
    return *drawing;
  }

  static std::optional<double> number(const Value* value) {
    return value != nullptr && value->kind == Value::Kind::number ? std::optional(value->number)
                                                                  : std::nullopt;
  }

  void feature(const Value& one) {
    if (faults_.full() || levels_.size() > kMostLevelsOfFile) return;
    if (one.text_of("type") != "Feature") {
      fault(one, DiagnosticCode::wrong_type, "expected a Feature");
      return;
    }
    const Value* const geometry = one.find("geometry");
    const Value* const properties = one.find("properties");
    if (geometry == nullptr || geometry->kind == Value::Kind::null) return;
    if (geometry->kind != Value::Kind::object) {
      fault(*geometry, DiagnosticCode::wrong_type, "expected a geometry");
      return;
    }
    Drawing& drawing = level_of(properties);
    const std::string_view name = properties != nullptr ? properties->text_of("name") : std::string_view();
    const std::string kind =
        lower_case(properties != nullptr ? properties->text_of("kind") : std::string_view());
    const double thickness_m =
        properties != nullptr ? number(properties->find("thickness_m")).value_or(0) : 0;
    draw(drawing, *geometry, std::string(name), kind, std::clamp(thickness_m, 0.0, 3.0));
  }

  void draw(Drawing& to, const Value& geometry, const std::string& name, const std::string& kind,
            double width) {
    const std::string_view type = geometry.text_of("type");
    const Value* const places = geometry.find("coordinates");
    if (type == "GeometryCollection" || type.empty() || places == nullptr ||
        places->kind != Value::Kind::list) {
      if (type == "GeometryCollection") {
        ++to.dropped[{DropReason::kind, std::string(type), kind}];
      } else {
        fault(geometry, DiagnosticCode::missing_key, "a geometry needs its type and coordinates");
      }
    } else if (type == "Polygon") {
      polygon(to, *places, name, kind);
    } else if (type == "MultiPolygon") {
      for (const Value& one : places->items) polygon(to, one, name, kind);
    } else if (type == "LineString") {
      line(to, *places, kind, width);
    } else if (type == "MultiLineString") {
      for (const Value& one : places->items) line(to, one, kind, width);
    } else if (type == "Point" && !name.empty() && (kind.empty() || kind == "room" || kind == "name")) {
      if (const auto at = place(*places)) to.texts.push_back({*at, 0, name, to.layer("name")});
    } else if (type == "Point" || type == "MultiPoint") {
      ++to.dropped[{DropReason::kind, std::string(type), kind}];
    } else {
      fault(geometry, DiagnosticCode::unknown_word, "RFC 7946 knows no geometry " + quoted(type));
    }
  }

  void polygon(Drawing& to, const Value& rings, const std::string& name, const std::string& kind) {
    if (rings.kind != Value::Kind::list || rings.items.empty()) {
      fault(rings, DiagnosticCode::wrong_count, "a polygon without a ring");
      return;
    }
    for (std::size_t i = 0; i < rings.items.size(); ++i) {
      const std::size_t faults_before = faults_.count();
      auto points = places_of(rings.items[i]);
      if (points.size() > 1 && points.front() == points.back()) points.pop_back();
      if (points.size() < 3) {
        if (faults_.count() == faults_before)
          fault(rings.items[i], DiagnosticCode::wrong_count, "a ring needs at least three corners");
        return;
      }
      to.lines.push_back({.points = std::move(points),
                          .closed = true,
                          .layer = to.layer(kind.empty() ? "room" : kind),
                          .name = i == 0 ? name : std::string()});
    }
  }

  void line(Drawing& to, const Value& places, const std::string& kind, double width) {
    const std::size_t faults_before = faults_.count();
    auto points = places_of(places);
    if (points.size() < 2) {
      if (faults_.count() == faults_before)
        fault(places, DiagnosticCode::wrong_count, "a line needs at least two places");
      return;
    }
    const bool closed = points.size() > 3 && points.front() == points.back();
    if (closed) points.pop_back();
    to.lines.push_back({.points = std::move(points),
                        .closed = closed,
                        .width = width,
                        .layer = to.layer(kind.empty() ? "wall" : kind)});
  }

  std::vector<Point2> places_of(const Value& list) {
    std::vector<Point2> points;
    if (list.kind != Value::Kind::list) fault(list, DiagnosticCode::wrong_type, "expected a list of places");
    for (const Value& one : list.items) {
      if (faults_.full()) break;
      if (const auto at = place(one)) points.push_back(*at);
    }
    return points;
  }

  std::optional<Point2> place(const Value& one) {
    if (one.kind != Value::Kind::list || one.items.size() < 2 || one.items[0].kind != Value::Kind::number ||
        one.items[1].kind != Value::Kind::number) {
      fault(one, DiagnosticCode::wrong_type, "expected a place: [x, y] in metres");
      return {};
    }
    const Point2 at{one.items[0].number, one.items[1].number};
    if (!(std::abs(at.x) <= kMostCoordinate && std::abs(at.y) <= kMostCoordinate)) {
      fault(one, DiagnosticCode::outside_range, "this place lies outside every plan");
      return {};
    }
    return at;
  }

  LineCounter lines_;
  Faults& faults_;
  std::vector<Level> levels_;
};

/// A whole plan some hundredths across is in degrees.
bool in_degrees(const std::vector<Drawing>& drawings) {
  Box2 box = Box2::nothing();
  for (const Drawing& drawing : drawings) {
    for (const DrawnLine& line : drawing.lines) {
      for (const Point2 p : line.points) box.take(p);
    }
  }
  return !box.empty() && std::max(box.max.x - box.min.x, box.max.y - box.min.y) < kDegreesAcross;
}

}  // namespace

Result<std::vector<Drawing>> parse_geojson(std::string_view bytes, const std::string& file_name) {
  Faults faults(file_name);
  const auto text = decoded_text(bytes, faults, kMaxDrawingBytes);
  if (!text) return std::move(faults).sorted();
  const auto root = json::parse(*text, faults);
  if (!root) return std::move(faults).sorted();
  std::vector<Drawing> drawings = GeoJsonReader(*text, faults).read(*root);
  if (faults.empty() && in_degrees(drawings)) {
    faults.add({1, 1}, DiagnosticCode::outside_range, "",
               "the plan is smaller than 5 cm: its places seem to be degrees",
               "places must be metres from a corner of the building");
  }
  if (!faults.empty()) return std::move(faults).sorted();
  return drawings;
}

}  // namespace linkmargin::exchange
