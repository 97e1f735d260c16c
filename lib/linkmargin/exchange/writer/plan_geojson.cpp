#include "linkmargin/exchange/writer/plan_geojson.hpp"

#include "linkmargin/exchange/writer/plan_lines.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>

namespace linkmargin::exchange {
namespace {

using Json = nlohmann::ordered_json;

Json place_json(Point2 p) {
  const auto rounded = [](double value_m) { return std::round(value_m * 10000) / 10000 + 0.0; };
  return Json::array({rounded(p.x), rounded(p.y)});
}

class GeoJsonWriter {
 public:
  std::string write(const Site& site, std::optional<std::size_t> only) {
    for (std::size_t i = 0; i < site.storeys.size(); ++i) {
      if (only && *only != i) continue;
      const Storey& storey = site.storeys[i];
      for (const Room& room : storey.rooms) polygon(storey, room);
      for (const PlanLine& one : plan_lines(storey)) line(storey, one);
      points(storey, "hub", site.hubs, i);
      points(storey, "repeater", site.repeaters, i);
      points(storey, "device", site.devices, i);
    }
    std::string text = "{\"type\": \"FeatureCollection\", \"features\": [\n";
    for (std::size_t i = 0; i < features_.size(); ++i)
      text += features_[i] + (i + 1 < features_.size() ? ",\n" : "\n");
    return text + "]}\n";
  }

 private:
  void feature(const Storey& storey, const char* type, Json places, Json properties) {
    properties["level"] = storey.name;
    properties["level_m"] = storey.level_m;
    properties["height_m"] = storey.height_m;
    features_.push_back(Json{{"type", "Feature"},
                             {"geometry", {{"type", type}, {"coordinates", std::move(places)}}},
                             {"properties", std::move(properties)}}
                            .dump());
  }

  void polygon(const Storey& storey, const Room& room) {
    Polygon2 corners = room.corners;  // RFC 7946, 3.1.6: counter-clockwise, the first repeated
    if (signed_area(corners) < 0) std::ranges::reverse(corners);
    Json ring = Json::array();
    for (const Point2 p : corners) ring.push_back(place_json(p));
    ring.push_back(place_json(corners.front()));
    feature(storey, "Polygon", Json::array({ring}), {{"kind", "room"}, {"name", room.name}});
  }

  void line(const Storey& storey, const PlanLine& one) {
    Json properties;
    properties["kind"] = one.kind == PlanLine::Kind::wall   ? "wall"
                         : one.kind == PlanLine::Kind::door ? "door"
                                                            : "window";
    if (!one.name.empty()) properties["name"] = one.name;
    if (one.kind == PlanLine::Kind::wall && one.thickness_m > 0) properties["thickness_m"] = one.thickness_m;
    feature(storey, "LineString", Json::array({place_json(one.line.a), place_json(one.line.b)}),
            std::move(properties));
  }

  template <typename Radios>
  void points(const Storey& storey, const char* kind, const Radios& radios, std::size_t of) {
    for (const auto& radio : radios) {
      if (radio.place.storey != of) continue;
      feature(storey, "Point", place_json(radio.place.at),
              {{"kind", kind}, {"name", radio.name}, {"height_above_floor_m", radio.place.height_m}});
    }
  }

  std::vector<std::string> features_;
};

}  // namespace

std::string plan_geojson(const Site& site, std::optional<std::size_t> storey) {
  return GeoJsonWriter().write(site, storey);
}

}  // namespace linkmargin::exchange
