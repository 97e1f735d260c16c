#include "linkmargin/report/map/placement_map.hpp"

#include "linkmargin/base/range.hpp"
#include "linkmargin/base/units.hpp"
#include "linkmargin/report/drawing/contour.hpp"
#include "linkmargin/report/drawing/palette.hpp"
#include "linkmargin/report/drawing/sheet.hpp"
#include "linkmargin/report/drawing/svg.hpp"
#include "linkmargin/report/map/coverage_contours.hpp"
#include "linkmargin/report/map/coverage_legend.hpp"
#include "linkmargin/report/placement_report.hpp"
#include "linkmargin/report/plan/map_panel.hpp"
#include "linkmargin/report/plan/plan_drawing.hpp"
#include "linkmargin/report/plan/plan_legend.hpp"
#include "linkmargin/report/plan/plan_scale.hpp"
#include "linkmargin/report/words/placement_words.hpp"
#include "linkmargin/site/storey_extent.hpp"

#include <algorithm>
#include <optional>

namespace linkmargin {
namespace {

constexpr double kRoundM = 1;
constexpr double kCellRimPx = 0.5;  // so that no paper shows between cells

const PlacementField& field_of(const PlacementAnswer& answer) {
  if (!answer.field || answer.choices.empty()) throw DomainError("there is no field to be drawn");
  return *answer.field;
}

Site chosen_site(const Site& site, const PlacementAnswer& answer) {
  const auto edited = edited_site(site, answer.choices.front().edits);
  return edited ? *edited : site;
}

Box2 world_round(const Box2& box) {
  return {box.min - Point2{kRoundM, kRoundM}, box.max + Point2{kRoundM, kRoundM}};
}

class PlacementSheet {
 public:
  PlacementSheet(const Wording& wording, const Site& site, const PlacementAnswer& answer)
      : wording_(wording),
        answer_(answer),
        field_(field_of(answer)),
        site_(chosen_site(site, answer)),
        panel_(world_round(storey_extent(site_, field_.storey))),
        sheet_(panel_.sheet_width_px()) {
    for (const ChosenService& service : answer.choices.front().services) {
      std::string figure =
          wording_.say("placement.sheet.chance", {{"chance", wording_.chance_figure(service.chance)}});
      if (service.weak) figure = wording_.say("sign.weak", {{"figure", figure}});
      marks_[service.name] = {hex_text(map_colour(service.chance)), figure, service.weak};
    }
  }

  std::string draw() {
    title();
    const plan::Frame frame = panel_.begin(wording_, sheet_);
    plan::Underlay underlay{[&](svg::Writer& out) { colours(out, frame); }, marks_};
    plan::Signs signs;
    plan::draw_storey(wording_, sheet_.body(), site_, field_.storey, frame, signs, &underlay);
    panel_.end(sheet_, frame);
    const double y = legend({Sheet::kMarginPx, sheet_.y() + 16});
    plan::draw_scale_bar(wording_, sheet_.body(), {Sheet::kMarginPx + 8, y + 14}, panel_.px_per_m());
    sheet_.go_to(plan::draw_legend(wording_, sheet_.body(), signs, {Sheet::kMarginPx, y + 34},
                                   sheet_.text_width_px()));
    sheet_.skip(8);
    sheet_.write(exact_words(wording_, site_, answer_), kNote);
    sheet_.write(placement_advice(wording_).front(), kNote);
    sheet_.write(wording_.say("caution.short.reading_decides"), kNoteBold);
    svg::Writer hatches;
    plan::draw_hatches(hatches);
    return sheet_.svg(std::move(hatches));
  }

 private:
  void title() {
    sheet_.write(site_.name, kTitle);
    sheet_.write(wording_.say(site_.hubs.size() == 1 ? "placement.sheet.the_hub" : "placement.sheet.hub",
                              {{"hub", wording_.name(field_.hub)},
                               {"storey", wording_.name(site_.storeys[field_.storey].name)},
                               {"height", wording_.number(field_.height_m)},
                               {"threshold", wording_.number(answer_.reading.weak_below_percent)}}),
                 kLead);
    sheet_.write(wording_.say("placement.sheet.lead",
                              {{"frequency", wording_.with_unit(mhz_from_hz(answer_.frequency_hz), "MHz")},
                               {"cases", held_words(wording_, answer_)},
                               {"proof", placement_proof(wording_.language(), answer_)}}),
                 kLead);
  }

  /// Each cell in its colour, neighbours in a row as one; white where the hub may not go.
  void colours(svg::Writer& out, const plan::Frame& frame) const {
    const LevelGrid& grid = field_.grid;
    const auto across = static_cast<std::size_t>(grid.columns);
    std::vector<std::string> runs(kMapColours);
    for (std::size_t cell = 0; cell < grid.size();) {
      const std::optional<std::size_t> colour = colour_of(cell);
      const std::size_t row = cell / across, first = cell % across;
      do {
        ++cell;
      } while (cell / across == row && colour_of(cell) == colour);
      if (!colour) continue;
      const auto corner = [&](std::size_t column, std::size_t of_row) {
        return frame.at(grid.corner +
                        grid.step_m * Point2{static_cast<double>(column), static_cast<double>(of_row)});
      };
      const Point2 lower_left = corner(first, row), upper_right = corner(cell - row * across, row + 1);
      runs[*colour] += outline_path(
          {lower_left, {upper_right.x, lower_left.y}, upper_right, {lower_left.x, upper_right.y}}, true);
    }
    const std::vector<Rgb> colours = map_colours(kMapColours);
    for (std::size_t i = 0; i < runs.size(); ++i) {
      if (runs[i].empty()) continue;
      const std::string colour = hex_text(colours[i]);
      out.element(
          "path",
          {{"d", runs[i]}, {"fill", colour}, {"stroke", colour}, {"stroke-width", svg::px(kCellRimPx)}});
    }
    const std::string zone = zone_path(frame);
    if (!zone.empty()) draw_threshold_line(out, zone);
  }

  /// Nothing where the hub may not go, and after the last cell.
  std::optional<std::size_t> colour_of(std::size_t cell) const {
    if (cell >= field_.grid.size() || field_.worst[cell] < 0) return {};
    const double share = std::clamp(static_cast<double>(field_.worst[cell]), 0.0, 1.0);
    return std::min(kMapColours - 1, static_cast<std::size_t>(share * kMapColours));
  }

  /// Round what is within 1 dB of the best.
  std::string zone_path(const plan::Frame& frame) const {
    const LevelGrid& grid = field_.grid;
    const Field below{grid.columns + 2, grid.rows + 2, [&](int column, int row) {
                        if (column == 0 || row == 0 || column > grid.columns || row > grid.rows) return 1.0;
                        const auto cell =
                            static_cast<std::size_t>(row - 1) * static_cast<std::size_t>(grid.columns) +
                            static_cast<std::size_t>(column - 1);
                        const auto worst = static_cast<double>(field_.worst[cell]);
                        return worst < 0 ? 1.0 : field_.one_db_less - worst - 1e-12;
                      }};
    std::string path;
    for (const std::vector<Point2>& outline : zones_below_zero(below)) {
      ContourLine line = simplified({outline, true}, kOutlineTolerancePx / (frame.px_per_m * grid.step_m));
      for (Point2& point : line.points)
        point = frame.at(grid.corner + grid.step_m * (point - Point2{0.5, 0.5}));
      path += outline_path(line.points, true);
    }
    return path;
  }

  double legend(Point2 corner) {
    svg::Writer& out = sheet_.body();
    out.text(corner, wording_.say("placement.sheet.bar"),
             {{"fill", kInk}, {"font-size", "13"}, {"font-weight", "bold"}});
    const Box2 bar{corner + Point2{0, 8}, corner + Point2{kBarWidthPx, 8 + kBarPx}};
    draw_palette(out, bar);
    draw_frame(out, bar, kInk);
    for (int percent = 0; percent <= 100; percent += 20)
      draw_palette_figure(out, {bar.min.x + kBarWidthPx * percent / 100, bar.max.y}, std::to_string(percent));
    draw_zone_sample(out, bar, 0.7, false, wording_.say("placement.sheet.zone"));
    out.text({bar.min.x, bar.max.y + 34}, wording_.say("placement.sheet.white"),
             {{"fill", kInk}, {"font-size", "12"}});
    return bar.max.y + 40;
  }

  const Wording& wording_;
  const PlacementAnswer& answer_;
  const PlacementField& field_;
  Site site_;
  plan::MapPanel panel_;
  Sheet sheet_;
  std::map<std::string, plan::DeviceMark> marks_;
};

}  // namespace

std::string placement_svg(const Language& language, const Site& site, const PlacementAnswer& answer) {
  const Wording wording(language);
  return PlacementSheet(wording, site, answer).draw();
}

}  // namespace linkmargin
