#include "linkmargin/report/plan/fault_plan.hpp"

#include "linkmargin/report/drawing/sheet.hpp"
#include "linkmargin/report/plan/plan_frame.hpp"
#include "linkmargin/report/plan/plan_scale.hpp"
#include "linkmargin/report/words/wording.hpp"
#include "linkmargin/site/limits.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <set>
#include <vector>

namespace linkmargin {
namespace {

constexpr const char* kFaultInk = "#b3261e";
constexpr std::size_t kFaultsShown = 12;
constexpr double kFaultPlanWidthPx = 900;
constexpr double kTallestPx = 620;
constexpr double kMostPxPerM = 60;
constexpr double kRulerRimPx = 46;

/// What the faults of a storey are about.
struct InDoubt {
  std::set<std::string> rooms;
  std::set<std::string> openings;
};

class FaultSheet {
 public:
  FaultSheet(const Language& language, const Diagnostics& faults, const Site& site)
      : wording_(language), faults_(faults), site_(site), sheet_(kFaultPlanWidthPx) {}

  std::string draw(const std::string& file) {
    sheet_.write(wording_.counted("fault_plan.title", faults_.size(), {{"file", file}}), kTitle);
    sheet_.skip(6);
    for (std::size_t i = 0; i < faults_.size() && i < kFaultsShown; ++i) {
      sheet_.write(line_of(faults_[i]), kNote, 0);
      sheet_.skip(3);
    }
    if (faults_.size() > kFaultsShown)
      sheet_.write(wording_.counted("fault_plan.more", faults_.size() - kFaultsShown), kSmallPrint);
    for (const Storey& storey : site_.storeys) plan(storey);
    return sheet_.svg();
  }

 private:
  /// "12:9: unknown key ..."
  static std::string line_of(Diagnostic fault) {
    fault.file.clear();
    return to_text(fault);
  }

  InDoubt in_doubt(const Storey& storey) const {
    InDoubt result;
    for (const Diagnostic& fault : faults_) {
      const auto names = pointer_names(fault.path);
      if (!names || names->size() < 4 || (*names)[0] != "storeys" || (*names)[1] != storey.name) continue;
      if ((*names)[2] == "rooms") {
        result.rooms.insert((*names)[3]);
        result.rooms.insert(fault.names.begin(), fault.names.end());
      } else if ((*names)[2] == "openings") {
        result.openings.insert((*names)[3]);
      }
    }
    return result;
  }

  static bool drawable(const Polygon2& corners) {
    return corners.size() >= 3 && std::ranges::all_of(corners, [](Point2 p) {
             return limits::kPlanCoordinateM.contains(p.x) && limits::kPlanCoordinateM.contains(p.y);
           });
  }

  void plan(const Storey& storey) {
    const InDoubt doubt = in_doubt(storey);
    Box2 world = Box2::nothing();
    for (const Room& room : storey.rooms) {
      if (drawable(room.corners)) world.take(bounding_box(room.corners));
    }
    if (world.empty()) return;
    for (const Opening& opening : storey.openings) {
      if (doubt.openings.contains(opening.name) && drawable({opening.at, opening.at, opening.at}))
        world.take(opening.at);
    }
    const Point2 size{std::max(world.max.x - world.min.x, 1.0), std::max(world.max.y - world.min.y, 1.0)};
    const double px_per_m =
        std::min({kMostPxPerM, (sheet_.text_width_px() - 2 * kRulerRimPx) / size.x, kTallestPx / size.y});
    sheet_.skip(12);
    sheet_.write(storey.name, kLeadBold);
    const Point2 corner{Sheet::kMarginPx + kRulerRimPx, sheet_.y() + 24};
    const plan::Frame frame{.world = world, .origin_px = corner, .px_per_m = px_per_m, .labels_px = {}};
    const Point2 far = corner + px_per_m * size;
    plan::draw_grid(wording_, sheet_.body(), frame, world, 0.3,
                    plan::grid_step_m(px_per_m, std::max(size.x, size.y), wording_.language().length_unit()),
                    {corner - Point2{18, 18}, far + Point2{18, 18}});
    rooms(storey, doubt, frame);
    openings(storey, doubt, frame);
    sheet_.go_to(far.y + 44);
  }

  void rooms(const Storey& storey, const InDoubt& doubt, const plan::Frame& frame) {
    svg::Writer& out = sheet_.body();
    for (const bool red : {false, true}) {  // what is wrong lies on top
      for (const Room& room : storey.rooms) {
        if (doubt.rooms.contains(room.name) != red || !drawable(room.corners)) continue;
        std::vector<Point2> points;
        for (const Point2 p : room.corners) points.push_back(frame.at(p));
        out.element("polygon",
                    {{"points", svg::points(points)},
                     {"fill", red ? kFaultInk : "#eef1f3"},
                     {"fill-opacity", red ? "0.25" : "1"},
                     {"stroke", red ? kFaultInk : plan::kOuterWall},
                     {"stroke-width", red ? "3" : "1.6"}},
                    room.name);
      }
    }
    for (const Room& room : storey.rooms) {
      if (!drawable(room.corners)) continue;
      out.text(frame.at(label_point(room.corners)), room.name,
               {{"fill", doubt.rooms.contains(room.name) ? kFaultInk : kInk},
                {"font-size", "12"},
                {"text-anchor", "middle"}});
    }
  }

  void openings(const Storey& storey, const InDoubt& doubt, const plan::Frame& frame) {
    svg::Writer& out = sheet_.body();
    for (const Opening& opening : storey.openings) {
      if (!drawable({opening.at, opening.at, opening.at}) || !frame.world.holds(opening.at)) continue;
      const bool red = doubt.openings.contains(opening.name);
      const Point2 at = frame.at(opening.at);
      out.element("circle",
                  {{"cx", svg::px(at.x)},
                   {"cy", svg::px(at.y)},
                   {"r", red ? "9" : "3"},
                   {"fill", red ? "none" : plan::kDoor},
                   {"stroke", red ? kFaultInk : "none"},
                   {"stroke-width", "3"}},
                  opening.name);
      if (!red) continue;
      out.text(at - Point2{0, 14}, opening.name,
               {{"fill", kFaultInk}, {"font-size", "12"}, {"text-anchor", "middle"}});
    }
  }

  const Wording wording_;
  const Diagnostics& faults_;
  const Site& site_;
  Sheet sheet_;
};

/// A path as an address has it (RFC 3986, 2.1).
std::string percent_encoded(const std::string& path) {
  constexpr std::string_view kDigits = "0123456789ABCDEF";
  constexpr std::string_view kPlain = "-._~/";
  std::string text;
  for (const char letter : path) {
    const auto byte = static_cast<unsigned char>(letter);
    const bool plain = (letter >= '0' && letter <= '9') || (letter >= 'A' && letter <= 'Z') ||
                       (letter >= 'a' && letter <= 'z') || kPlain.find(letter) != std::string_view::npos;
    if (plain) {
      text += letter;
    } else {
      text.append(1, '%').append(1, kDigits[byte >> 4U]).append(1, kDigits[byte & 15U]);
    }
  }
  return text;
}

}  // namespace

std::string fault_plan_svg(const Language& language, const std::string& file, const Diagnostics& faults,
                           const Site& site) {
  return FaultSheet(language, faults, site).draw(file);
}

std::string reload_page(const Language& language, const std::string& file, const std::string& picture) {
  const std::string title = svg::escaped(file), address = percent_encoded(picture);
  return "<!DOCTYPE html>\n<html lang=\"" + svg::escaped(language.words().tag) +
         "\">\n<head>\n<meta charset=\"utf-8\">\n<title>" + title +
         "</title>\n<style>body { margin: 1rem; font-family: sans-serif; } img { max-width: 100%; }</style>\n"
         "</head>\n<body>\n<img id=\"plan\" src=\"" +
         address + "\" alt=\"" + title + "\">\n<p>" + svg::escaped(language.say("fault_plan.page")) +
         "</p>\n<script>\n"
         "// The picture is fetched beside the one that is shown, so that nothing flickers.\n"
         "const plan = document.getElementById(\"plan\");\n"
         "const address = plan.getAttribute(\"src\");\n"
         "setInterval(() => {\n"
         "  const next = new Image();\n"
         "  next.onload = () => { plan.src = next.src; };\n"
         "  next.src = address + \"?\" + Date.now();\n"
         "}, 500);\n"
         "</script>\n</body>\n</html>\n";
}

}  // namespace linkmargin
