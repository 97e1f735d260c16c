#include "linkmargin/report/plan/floor_plan.hpp"

#include "linkmargin/report/drawing/sheet.hpp"
#include "linkmargin/report/plan/framed_plan.hpp"
#include "linkmargin/report/plan/plan_legend.hpp"
#include "linkmargin/report/plan/plan_scale.hpp"
#include "linkmargin/report/words/wording.hpp"
#include "linkmargin/site/storey_extent.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace linkmargin {
namespace {

constexpr double kRulerPx = 34;
constexpr double kLabelRimPx = 62;  // about a plan, for names
constexpr double kStoreyTitlePx = 34;
constexpr double kScaleBarPx = 44;
constexpr double kStoreyGapPx = 26;
constexpr double kBeyondM = 1;     // the grid reaches beyond what is on the storey
constexpr double kNamePx2 = 9000;  // of a sheet for each name

constexpr Box2 kEmptyStorey{{0, 0}, {4, 3}};

struct Panel {
  std::size_t storey = 0;
  plan::Framing shown;

  const Box2& world() const { return shown.main; }
};

/// The highest first.
std::vector<Panel> panels_of(const Site& site, const FloorPlanOptions& options) {
  std::vector<std::size_t> order(site.storeys.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(), [&](std::size_t left, std::size_t right) {
    return site.storeys[left].level_m > site.storeys[right].level_m;
  });
  std::vector<Panel> panels;
  for (const std::size_t storey : order) {
    if (options.storey && *options.storey != storey) continue;
    Box2 drawn = storey_extent(site, storey);
    if (options.under)
      drawn.take(Box2{options.under->lower_left_m, options.under->lower_left_m + options.under->size_m});
    if (drawn.empty()) drawn = kEmptyStorey;
    const PlanFraming asked = options.under ? PlanFraming::all : options.shown;
    plan::Framing shown = plan::framing(site, drawn, asked);
    // The small plan has no rim for names, and none of its walls may be cut.
    const Point2 beyond{kBeyondM, kBeyondM};
    if (shown.all_beside) shown = plan::framing(site, {drawn.min - beyond, drawn.max + beyond}, asked);
    panels.push_back({storey, shown});
  }
  return panels;
}

/// The scale at which the most crowded storey has room for each name.
double px_per_m_for_names(const Site& site, const std::vector<Panel>& panels) {
  double densest = 0;
  for (const Panel& panel : panels) {
    const auto names = std::count_if(site.devices.begin(), site.devices.end(), [&](const Device& device) {
      return device.place.storey == panel.storey && panel.world().holds(device.place.at);
    });
    const Point2 size = panel.world().max - panel.world().min;
    densest = std::max(densest, static_cast<double>(names) / std::max(1.0, size.x * size.y));
  }
  return std::sqrt(kNamePx2 * densest);
}

/// One scale for all storeys, and the same place across the sheet, so that what stands above stands above.
struct Fit {
  Fit(const Site& site, const std::vector<Panel>& panels) {
    Box2 all = Box2::nothing();
    double tallest_m = 1;
    for (const Panel& panel : panels) {
      all.take(panel.world());
      tallest_m = std::max(tallest_m, panel.world().max.y - panel.world().min.y);
    }
    x_min = all.min.x;
    wide_m = std::max(all.max.x - x_min, 1.0);
    longest_m = std::max(wide_m, tallest_m);
    const double comfortable = std::min({900 / wide_m, 760 / tallest_m, 80.0});
    // A building in a large yard, or many names in a small one.
    const double roomy = std::min(std::max(36.0, px_per_m_for_names(site, panels)), 1500 / longest_m);
    const double legible = std::min(8.0, 3600 / longest_m);
    px_per_m = std::max({comfortable, roomy, legible});
  }

  /// @param panels  those it was made for
  double sheet_width_px(const std::vector<Panel>& panels) const {
    double beside_px = 0;
    for (const Panel& panel : panels) {
      if (panel.shown.all_beside)
        beside_px = std::max(
            beside_px, plan::kBesidePx +
                           px_per_m * (panel.shown.wide_m() - (panel.world().max.x - panel.world().min.x)));
    }
    return 2 * Sheet::kMarginPx + kRulerPx + 2 * kLabelRimPx + wide_m * px_per_m + beside_px;
  }

  double x_min = 0;
  double wide_m = 1;
  double longest_m = 1;
  double px_per_m = 1;
};

class FloorPlanSheet {
 public:
  FloorPlanSheet(const Wording& wording, const Site& site, const FloorPlanOptions& options)
      : wording_(wording),
        site_(site),
        under_(options.under),
        panels_(panels_of(site, options)),
        fit_(site, panels_),
        sheet_(fit_.sheet_width_px(panels_)),
        left_px_(Sheet::kMarginPx + kRulerPx + kLabelRimPx +
                 std::max(0.0, (sheet_.width_px() - fit_.sheet_width_px(panels_)) / 2)) {}

  std::string draw() {
    sheet_.write(site_.name, kTitle);
    sheet_.write(
        wording_.say(wording_.language().length_unit() == LengthUnit::foot ? "sign.plan_feet" : "sign.plan"),
        kSmallPrint);
    sheet_.skip(6);
    plan::Signs signs;
    for (const Panel& panel : panels_) storey(panel, signs);
    sheet_.go_to(plan::draw_legend(wording_, sheet_.body(), signs, {Sheet::kMarginPx, sheet_.y()},
                                   sheet_.text_width_px()));
    svg::Writer hatches;
    plan::draw_hatches(hatches);
    return sheet_.svg(std::move(hatches));
  }

 private:
  void storey(const Panel& panel, plan::Signs& signs) {
    const Storey& of = site_.storeys[panel.storey];
    const double y = sheet_.y();
    svg::Writer& out = sheet_.body();
    draw_line(out, {Sheet::kMarginPx, y}, {sheet_.width_px() - Sheet::kMarginPx, y}, "#c9ced4", "1");
    out.text({Sheet::kMarginPx, y + 22}, of.name,
             {{"fill", kInk}, {"font-size", "15"}, {"font-weight", "bold"}});
    out.text({Sheet::kMarginPx, y + 38},
             wording_.say("sign.storey", {{"level", wording_.language().length(of.level_m)},
                                          {"height", wording_.language().length(of.height_m)}}),
             {{"fill", kFaintInk}, {"font-size", "11"}});
    const double top = y + kStoreyTitlePx + kLabelRimPx;
    const double height = panel.shown.main_m().y * fit_.px_per_m;
    // What stands above stands above: every plan has the width of all.
    const Point2 corner{left_px_ + (panel.world().min.x - fit_.x_min) * fit_.px_per_m, top};
    const double right_px = left_px_ + fit_.wide_m * fit_.px_per_m + kLabelRimPx;
    const double own_px = (panel.world().max.x - panel.world().min.x) * fit_.px_per_m;
    plan::FramedPlan framed = plan::framed_plan(panel.shown, corner, fit_.px_per_m,
                                                std::to_string(panel.storey), right_px - corner.x - own_px);
    plan::draw_clips(out, framed);
    plan::Frame& frame = framed.main;
    frame.labels_px = {{left_px_ - kLabelRimPx + 22, y + 46}, {right_px, top + height + kLabelRimPx - 6}};
    rulers(frame, panel.world());
    const int left_out = under_ ? over_picture(panel.storey, frame, signs)
                                : plan::draw_framed(wording_, out, site_, panel.storey, framed, signs);
    const double below = top + height + kLabelRimPx + 16;
    plan::draw_scale_bar(wording_, out, {left_px_, below + 14}, fit_.px_per_m);
    if (left_out > 0) {
      out.text({left_px_ + 260, below + 18},
               wording_.counted("sign.left_out", static_cast<std::size_t>(left_out)),
               {{"fill", kFaintInk}, {"font-size", "11"}});
    }
    sheet_.go_to(below + kScaleBarPx + kStoreyGapPx);
  }

  int over_picture(std::size_t storey, const plan::Frame& frame, plan::Signs& signs) {
    const plan::Underlay underlay{
        .draw =
            [&](svg::Writer& out, const plan::Frame&) {
              const Point2 corner = frame.at(under_->lower_left_m + Point2{0, under_->size_m.y});
              out.element("image", {{"x", svg::px(corner.x)},
                                    {"y", svg::px(corner.y)},
                                    {"width", svg::px(under_->size_m.x * frame.px_per_m)},
                                    {"height", svg::px(under_->size_m.y * frame.px_per_m)},
                                    {"preserveAspectRatio", "none"},
                                    {"opacity", "0.6"},
                                    {"href", under_->address}});
            },
        .devices = {},
        .building =
            [&](svg::Writer& out, const plan::Frame&) {
              out.open("g", {{"opacity", "0.6"}});
              plan::draw_over_map(wording_, out, site_, storey, frame, signs);
              out.close("g");
            }};
    const int left_out = plan::draw_storey(wording_, sheet_.body(), site_, storey, frame, signs, &underlay);
    signs.map = false;  // the signs of devices are those of a plan
    return left_out;
  }

  /// A faint grid in site metres over what the storey itself takes up and a metre more, with its figures at
  /// the left and under it.
  void rulers(const plan::Frame& frame, const Box2& own) {
    const double beyond_px = std::min(kBeyondM * fit_.px_per_m, kLabelRimPx - 18);
    const Point2 lower = frame.at(own.min);
    const Point2 upper = frame.at(own.max);
    plan::draw_grid(wording_, sheet_.body(), frame, own, beyond_px / fit_.px_per_m,
                    plan::grid_step_m(fit_.px_per_m, fit_.longest_m, wording_.language().length_unit()),
                    {{lower.x - kLabelRimPx + 18, upper.y - beyond_px},
                     {upper.x + beyond_px, lower.y + kLabelRimPx - 4}});
  }

  const Wording& wording_;
  const Site& site_;
  const std::optional<PlanPicture>& under_;
  std::vector<Panel> panels_;
  Fit fit_;
  Sheet sheet_;
  double left_px_;
};

}  // namespace

std::string floor_plan_svg(const Language& language, const Site& site, const FloorPlanOptions& options) {
  const Wording wording(language);
  return FloorPlanSheet(wording, site, options).draw();
}

}  // namespace linkmargin
