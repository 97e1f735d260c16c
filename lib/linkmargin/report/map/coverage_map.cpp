#include "linkmargin/report/map/coverage_map.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/report/map/coverage_layer.hpp"
#include "linkmargin/report/map/coverage_legend.hpp"
#include "linkmargin/text/display_text.hpp"
#include "linkmargin/report/words/phrases.hpp"
#include "linkmargin/report/plan/plan_legend.hpp"
#include "linkmargin/report/plan/plan_scale.hpp"
#include "linkmargin/report/drawing/png.hpp"
#include "linkmargin/report/document/rounding.hpp"
#include "linkmargin/report/drawing/sheet.hpp"
#include "linkmargin/report/drawing/sheet_painter.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace linkmargin {
namespace {

using plan::Frame;

constexpr double kMarginPx = 28;
constexpr double kRulerPx = 26;

class Sheet {
 public:
  Sheet(const Site& site, const CoverageMap& map, const LinkTable& table, CoverageValue value)
      : site_(site), map_(map), value_(value), scale_(value_scale(map, value)) {
    storey_ = static_cast<std::size_t>(std::ranges::find(site.storeys, map.storey, &Storey::name) -
                                       site.storeys.begin());
    world_ = map_box(map);
    const Point2 size = world_.max - world_.min;
    const double longest_m = std::max(size.x, size.y);
    const double comfortable = std::min({1000 / size.x, 860 / size.y, 80.0});
    px_per_m_ = std::max({comfortable, std::min(34.0, 1400 / longest_m), std::min(8.0, 3600 / longest_m)});
    width_px_ = std::max(760.0, 2 * kMarginPx + kRulerPx + size.x * px_per_m_);
    left_px_ = (width_px_ - size.x * px_per_m_ + kRulerPx) / 2;
    marks(table);
  }

  svg::Writer draw() {
    svg::Writer body;
    plan::Signs signs;
    const double top = title(body) + 8;
    const double high_px = (world_.max.y - world_.min.y) * px_per_m_;
    const Frame frame{.world = world_,
                      .origin_px = {left_px_, top},
                      .px_per_m = px_per_m_,
                      .labels_px = {{left_px_ + 3, top + 3}, {right_px() - 3, top + high_px - 3}}};
    plan::Underlay underlay{[&](svg::Writer& out) { draw_coverage(out, map_, value_, frame, px_per_m_); }, marks_};
    rulers(body, frame);
    const int left_out = plan::draw_storey(body, site_, storey_, frame, signs, &underlay);
    rim(body, frame);
    double y = draw_coverage_legend(body, map_, value_, {kMarginPx, top + high_px + kRulerPx + 16});
    plan::draw_scale_bar(body, {kMarginPx + 8, y + 32}, px_per_m_);
    y += 50;
    y = plan::draw_legend(body, signs, {kMarginPx, y}, width_px_ - 2 * kMarginPx);
    y = notes(body, y + 8, left_out, signs);
    svg::Writer hatches;
    plan::draw_hatches(hatches);
    draw_weak_hatch(hatches);
    return sheet(std::move(hatches), std::move(body), {width_px_, y + 14});
  }

 private:
  double right_px() const { return left_px_ + (world_.max.x - world_.min.x) * px_per_m_; }

  /// A device's own link: with the hub of the map where there is one alone, else with the one that serves it.
  void marks(const LinkTable& table) {
    for (const Link& link : table.links) {
      if (map_.hubs.size() == 1 ? link.hub != map_.hubs.front().name : !link.serving) continue;
      const LinkBudget& way = link.weaker();
      double shown = 0;
      std::string text;
      switch (value_) {
        case CoverageValue::reading:
          shown = way.reading_percent;
          text = fixed_text(whole_percent(shown, map_.reading.weak_below_percent), 0);
          break;
        case CoverageValue::level:
          shown = way.level.value;
          text = fixed_text(shown, 0);
          break;
        case CoverageValue::margin:
          shown = way.margin.value;
          text = fixed_text(shown, 0);
          break;
        case CoverageValue::loss:
          shown = link.loss.path_loss_db;
          text = fixed_text(shown, 0);
          break;
        case CoverageValue::chance:
          shown = 100 * link.pass_probability;
          text = chance_percent(link.pass_probability);
      }
      marks_[link.device] = {hex_text(map_colour(scale_.share(shown))),
                             text + " " + value_unit(value_) + (link.weak ? ", weak" : ""), link.weak};
    }
  }

  double lines(svg::Writer& out, double y, const std::string& text, double font_px, const char* colour,
               bool bold) const {
    return draw_lines(out, {kMarginPx, y}, width_px_ - 2 * kMarginPx, text, font_px, colour, bold);
  }

  double title(svg::Writer& out) const {
    std::string what = value_phrase(map_, value_);
    what.front() = static_cast<char>(what.front() - 'a' + 'A');
    double y = lines(out, kMarginPx + 14, site_.name, 20, plan::kInk, true);
    y = lines(out, y + 2,
              what + " on storey " + quoted_name(map_.storey) + ", " + shortest_text(map_.height_m) +
                  " m over its floor, for a device of the profile " + quoted_name(map_.profile) + "; " +
                  hubs_phrase(map_) + ".",
              13.5, plan::kInk, false);
    y = lines(out, y,
              shortest_text(mhz_from_hz(map_.frequency_hz)) + " MHz, " + doors_phrase(map_.doors) + ". " +
                  weak_phrase(),
              13.5, plan::kInk, false);
    return lines(out, y + 1, "An estimate: it never replaces the reading on site.", 13.5, plan::kInk, true) -
           6;
  }

  std::string weak_phrase() const {
    const auto share = weak_shares(map_, site_).rooms_percent;
    if (!share) return "The cells are too wide to say what share of the rooms is weak.";
    return fixed_text(*share, 0) +
           (site_.storeys[storey_].rooms.empty() ? " % of the map" : " % of the rooms") + " is weak: under " +
           shortest_text(map_.reading.weak_below_percent) + " %, or not heard.";
  }

  void rulers(svg::Writer& out, const Frame& frame) const {
    const Point2 size = world_.max - world_.min;
    const Point2 lower = frame.at(world_.min);
    const Point2 upper = frame.at(world_.max);
    plan::draw_grid(out, frame, world_, 0, plan::grid_step_m(px_per_m_, std::max(size.x, size.y)),
                    {{lower.x - 4, upper.y}, {upper.x, lower.y + 4}});
  }

  void rim(svg::Writer& out, const Frame& frame) const {
    const Point2 upper_left = frame.at({world_.min.x, world_.max.y});
    out.element("rect", {{"x", svg::px(upper_left.x)},
                         {"y", svg::px(upper_left.y)},
                         {"width", svg::px((world_.max.x - world_.min.x) * px_per_m_)},
                         {"height", svg::px((world_.max.y - world_.min.y) * px_per_m_)},
                         {"fill", "none"},
                         {"stroke", plan::kFaintInk},
                         {"stroke-width", "1"}});
  }

  double notes(svg::Writer& out, double y, int left_out, const plan::Signs& signs) const {
    std::string text;
    if (signs.device || signs.ruled_device) {
      text =
          " A device is shown by its own link, with its own height, profile and mounting: it may differ from "
          "the map about it.";
    }
    if (map_.nearby_readings > 0) text += " " + nearby_phrase(map_, value_);
    const std::string hint = scale_hint(map_, value_);
    if (!hint.empty()) text += " " + hint + " A map of margins tells more.";
    for (const Hub& hub : site_.hubs) text += hub_note(hub);
    if (signs.repeater) text += " Repeaters are drawn, but what they would add is not in the map.";
    if (left_out > 0) {
      text += " " + counted(static_cast<std::size_t>(left_out), "name", "names") + " found no room.";
    }
    if (!text.empty()) y = lines(out, y + 8, text.substr(1), 11.5, plan::kFaintInk, false);
    return warnings(out, y);
  }

  /// Of a hub that counts and is not drawn, or is drawn and does not count.
  std::string hub_note(const Hub& hub) const {
    const bool counts = std::ranges::find(map_.hubs, hub.name, &CoverageHub::name) != map_.hubs.end();
    const bool drawn = hub.place.storey == storey_;
    if (counts && !drawn) {
      return " Hub " + quoted_name(hub.name) + " is on storey " +
             quoted_name(site_.storeys[hub.place.storey].name) + ".";
    }
    return drawn && !counts ? " Hub " + quoted_name(hub.name) + " is drawn, but not in the map." : "";
  }

  double warnings(svg::Writer& out, double y) const {
    if (map_.warnings.empty()) return y;
    y = lines(out, y + 8, "Cautions", 12, plan::kInk, true);
    for (const std::string& warning : map_.warnings) {
      y = lines(out, y + 1, "\u2013 " + warning, 11.5, plan::kInk, false);
    }
    return y;
  }

  const Site& site_;
  const CoverageMap& map_;
  CoverageValue value_;
  ValueScale scale_;
  std::size_t storey_ = 0;
  Box2 world_;
  std::map<std::string, plan::DeviceMark> marks_;
  double px_per_m_ = 1;
  double width_px_ = 0;
  double left_px_ = 0;
};

}  // namespace

std::string coverage_svg(const Site& site, const CoverageMap& map, const LinkTable& table,
                         CoverageValue value) {
  return Sheet(site, map, table, value).draw().take();
}

std::string coverage_png(const Site& site, const CoverageMap& map, const LinkTable& table,
                         CoverageValue value) {
  const svg::Writer sheet = Sheet(site, map, table, value).draw();
  return png_bytes(painted(sheet, picture_scale(sheet)));
}

}  // namespace linkmargin
