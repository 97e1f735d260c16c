#include "linkmargin/report/plan/floor_plan.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/text/display_text.hpp"
#include "linkmargin/report/plan/plan_drawing.hpp"
#include "linkmargin/report/plan/plan_legend.hpp"
#include "linkmargin/report/plan/plan_scale.hpp"
#include "linkmargin/report/drawing/png.hpp"
#include "linkmargin/report/drawing/sheet.hpp"
#include "linkmargin/report/drawing/sheet_painter.hpp"
#include "linkmargin/site/storey_extent.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

namespace linkmargin {
namespace {

using plan::Frame;

constexpr double kMarginPx = 28;
constexpr double kRulerPx = 34;
constexpr double kLabelRimPx = 62;  // about a plan, for names
constexpr double kStoreyTitlePx = 34;
constexpr double kScaleBarPx = 44;
constexpr double kStoreyGapPx = 26;
constexpr double kBeyondM = 1;  // the grid reaches beyond what is on the storey

constexpr Box2 kEmptyStorey{{0, 0}, {4, 3}};

struct Panel {
  std::size_t storey = 0;
  Box2 world;
};

class Sheet {
 public:
  Sheet(const Site& site, const FloorPlanOptions& options) : site_(site) {
    std::vector<std::size_t> order(site.storeys.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(), [&](std::size_t left, std::size_t right) {
      return site.storeys[left].level_m > site.storeys[right].level_m;
    });
    for (const std::size_t storey : order) {
      if (options.storey && *options.storey != storey) continue;
      const Box2 drawn = storey_extent(site, storey);
      panels_.push_back({storey, drawn.empty() ? kEmptyStorey : drawn});
    }
    fit();
  }

  svg::Writer draw() {
    svg::Writer body;
    plan::Signs signs;
    double y = title(body);
    for (const Panel& panel : panels_) y = storey(body, panel, y, signs);
    y = plan::draw_legend(body, signs, {kMarginPx, y}, width_px_ - 2 * kMarginPx);
    svg::Writer hatches;
    plan::draw_hatches(hatches);
    return sheet(std::move(hatches), std::move(body), {width_px_, y + kMarginPx});
  }

 private:
  /// One scale for all storeys, and the same place across the sheet, so that what stands above stands above.
  void fit() {
    Box2 all = Box2::nothing();
    double tallest_m = 1;
    for (const Panel& panel : panels_) {
      all.take(panel.world);
      tallest_m = std::max(tallest_m, panel.world.max.y - panel.world.min.y);
    }
    x_min_ = all.min.x;
    x_max_ = std::max(all.max.x, x_min_ + 1);
    const double wide_m = x_max_ - x_min_;
    const double comfortable = std::min({900 / wide_m, 760 / tallest_m, 80.0});
    // A building in a large yard, or many names in a small one.
    const double roomy = std::min(std::max(36.0, px_per_m_for_names()), 1500 / std::max(wide_m, tallest_m));
    const double legible = std::min(8.0, 3600 / std::max(wide_m, tallest_m));
    px_per_m_ = std::max({comfortable, roomy, legible});
    width_px_ = std::max(760.0, 2 * kMarginPx + kRulerPx + 2 * kLabelRimPx + wide_m * px_per_m_);
    left_px_ = (width_px_ - wide_m * px_per_m_ + kRulerPx) / 2;
  }

  /// The scale at which the most crowded storey has about 9000 square pixels for each name.
  double px_per_m_for_names() const {
    double densest = 0;
    for (const Panel& panel : panels_) {
      const auto names = std::count_if(site_.devices.begin(), site_.devices.end(), [&](const Device& device) {
        return device.place.storey == panel.storey;
      });
      const Point2 size = panel.world.max - panel.world.min;
      densest = std::max(densest, static_cast<double>(names) / std::max(1.0, size.x * size.y));
    }
    return std::sqrt(9000 * densest);
  }

  double title(svg::Writer& out) const {
    const int columns = std::max(20, static_cast<int>((width_px_ - 2 * kMarginPx) / 13));
    double y = kMarginPx + 16;
    for (const std::string& line : wrapped(printable(site_.name), columns)) {
      out.text({kMarginPx, y}, line, {{"fill", plan::kInk}, {"font-size", "19"}, {"font-weight", "bold"}});
      y += 23;
    }
    out.text({kMarginPx, y - 3}, "Plan as typed. Lengths in metres.",
             {{"fill", plan::kFaintInk}, {"font-size", "11.5"}});
    return y + 16;
  }

  double storey(svg::Writer& out, const Panel& panel, double y, plan::Signs& signs) const {
    const Storey& of = site_.storeys[panel.storey];
    const std::string facts =
        "  floor at " + shortest_text(of.level_m) + " m, " + shortest_text(of.height_m) + " m high";
    out.element("line", {{"x1", svg::px(kMarginPx)},
                         {"y1", svg::px(y)},
                         {"x2", svg::px(width_px_ - kMarginPx)},
                         {"y2", svg::px(y)},
                         {"stroke", "#c9ced4"},
                         {"stroke-width", "1"}});
    out.text({kMarginPx, y + 22}, of.name,
             {{"fill", plan::kInk}, {"font-size", "15"}, {"font-weight", "bold"}});
    out.text({kMarginPx, y + 38}, facts.substr(2), {{"fill", plan::kFaintInk}, {"font-size", "11"}});
    const double top = y + kStoreyTitlePx + kLabelRimPx;
    const double height = (panel.world.max.y - panel.world.min.y) * px_per_m_;
    Frame frame{.world = {{x_min_, panel.world.min.y}, {x_max_, panel.world.max.y}},
                .origin_px = {left_px_, top},
                .px_per_m = px_per_m_,
                .labels_px = {{left_px_ - kLabelRimPx + 22, y + 46},
                              {width_px_ - kMarginPx, top + height + kLabelRimPx - 6}}};
    rulers(out, frame, panel.world);
    const int left_out = plan::draw_storey(out, site_, panel.storey, frame, signs);
    const double below = top + height + kLabelRimPx + 16;
    plan::draw_scale_bar(out, {left_px_, below + 14}, px_per_m_);
    if (left_out > 0) {
      out.text({left_px_ + 260, below + 18},
               std::to_string(left_out) + (left_out == 1 ? " name" : " names") +
                   " found no room; the tooltips have them.",
               {{"fill", plan::kFaintInk}, {"font-size", "11"}});
    }
    return below + kScaleBarPx + kStoreyGapPx;
  }

  double grid_step_m() const {
    double longest_m = x_max_ - x_min_;
    for (const Panel& panel : panels_) longest_m = std::max(longest_m, panel.world.max.y - panel.world.min.y);
    return plan::grid_step_m(px_per_m_, longest_m);
  }

  /// A faint grid in site metres over what the storey itself takes up and a metre more, with its figures at
  /// the left and under it.
  void rulers(svg::Writer& out, const Frame& frame, const Box2& own) const {
    const double beyond_px = std::min(kBeyondM * px_per_m_, kLabelRimPx - 18);
    const Point2 lower = frame.at(own.min);
    const Point2 upper = frame.at(own.max);
    plan::draw_grid(out, frame, own, beyond_px / px_per_m_, grid_step_m(),
                    {{lower.x - kLabelRimPx + 18, upper.y - beyond_px},
                     {upper.x + beyond_px, lower.y + kLabelRimPx - 4}});
  }

  const Site& site_;
  std::vector<Panel> panels_;
  double x_min_ = 0;
  double x_max_ = 1;
  double px_per_m_ = 1;
  double width_px_ = 0;
  double left_px_ = 0;
};

}  // namespace

std::string floor_plan_svg(const Site& site, const FloorPlanOptions& options) {
  return Sheet(site, options).draw().take();
}

std::string floor_plan_png(const Site& site, const FloorPlanOptions& options) {
  const svg::Writer sheet = Sheet(site, options).draw();
  return png_bytes(painted(sheet, picture_scale(sheet)));
}

}  // namespace linkmargin
