#include "linkmargin/report/map/placement_map.hpp"

#include "linkmargin/base/range.hpp"
#include "linkmargin/base/sure_probability.hpp"
#include "linkmargin/base/units.hpp"
#include "linkmargin/report/drawing/palette.hpp"
#include "linkmargin/report/drawing/sheet.hpp"
#include "linkmargin/report/drawing/svg.hpp"
#include "linkmargin/report/map/coverage_legend.hpp"
#include "linkmargin/report/placement_report.hpp"
#include "linkmargin/report/plan/map_panel.hpp"
#include "linkmargin/report/plan/plan_drawing.hpp"
#include "linkmargin/report/plan/plan_legend.hpp"
#include "linkmargin/report/plan/plan_scale.hpp"
#include "linkmargin/report/words/placement_words.hpp"
#include "linkmargin/site/storey_extent.hpp"

#include <algorithm>

namespace linkmargin {
namespace {

constexpr double kRoundM = 1;
constexpr double kLeastDotPx = 2;
constexpr double kMostDotPx = 6;
constexpr double kRingPx = 1.5;

const PlacementField& field_of(const PlacementAnswer& answer) {
  if (!answer.field || answer.choices.empty()) throw DomainError("there is no field to be drawn");
  return *answer.field;
}

/// What is shown: things as they are where moving is not worth it, else the first choice.
const PlacementChoice& shown_choice(const PlacementAnswer& answer) {
  return gains_little(answer) ? *answer.present : answer.choices.front();
}

Site shown_site(const Site& site, const PlacementAnswer& answer) {
  const auto edited = edited_site(site, shown_choice(answer).edits);
  return edited ? *edited : site;
}

Box2 world_round(const Box2& box) {
  return {box.min - Point2{kRoundM, kRoundM}, box.max + Point2{kRoundM, kRoundM}};
}

class PlacementSheet {
 public:
  PlacementSheet(const Wording& wording, const Site& site, const PlacementAnswer& answer, PlanFraming shown)
      : wording_(wording),
        answer_(answer),
        field_(field_of(answer)),
        site_(shown_site(site, answer)),
        panel_(plan::framing(site_, world_round(storey_extent(site_, field_.storey)), shown)),
        sheet_(panel_.sheet_width_px()) {
    for (const ChosenService& service : shown_choice(answer).services) {
      std::string figure =
          wording_.say("placement.sheet.chance", {{"chance", wording_.chance_figure(service.chance)}});
      if (service.weak) figure = wording_.say("sign.weak", {{"figure", figure}});
      marks_[service.name] = {hex_text(map_colour(service.chance, kSureProbability)), figure, service.weak};
    }
  }

  std::string draw() {
    title();
    const plan::FramedPlan plan = panel_.begin(wording_, sheet_);
    const plan::Underlay underlay{[&](svg::Writer& out, const plan::Frame& frame) { dots(out, frame); },
                                  marks_};
    plan::Signs signs;
    plan::draw_framed(wording_, sheet_.body(), site_, field_.storey, plan, signs, &underlay);
    panel_.end(sheet_, plan);
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
                               {"height", wording_.language().length(field_.height_m)},
                               {"threshold", wording_.number(answer_.reading.weak_below_percent)}}),
                 kLead);
    sheet_.write(wording_.say("placement.sheet.lead",
                              {{"frequency", wording_.with_unit(mhz_from_hz(answer_.frequency_hz), "MHz")},
                               {"cases", held_words(wording_, answer_)},
                               {"proof", placement_proof(wording_.language(), answer_)}}),
                 kLead);
  }

  /// A dot for each place, a ring round those within 1 dB of the best.
  void dots(svg::Writer& out, const plan::Frame& frame) const {
    const double most_px = 0.4 * frame.px_per_m * field_.step_m;
    const double radius_px = std::clamp(most_px, kLeastDotPx, kMostDotPx);
    for (const PlacementField::Spot& spot : field_.spots) {
      const Point2 at = frame.at(spot.at);
      const bool in_zone = spot.worst >= field_.one_db_less;
      out.element("circle", {{"cx", svg::px(at.x)},
                             {"cy", svg::px(at.y)},
                             {"r", svg::px(radius_px)},
                             {"fill", hex_text(map_colour(spot.worst, kSureProbability))},
                             {"stroke", in_zone ? kInk : "none"},
                             {"stroke-width", svg::px(kRingPx)}});
    }
  }

  double legend(Point2 corner) {
    svg::Writer& out = sheet_.body();
    out.text(corner, wording_.say("placement.sheet.bar"),
             {{"fill", kInk}, {"font-size", "13"}, {"font-weight", "bold"}});
    const Box2 bar{corner + Point2{0, 8}, corner + Point2{kBarWidthPx, 8 + kLegendBarPx}};
    draw_palette(out, bar, kSureProbability);
    draw_frame(out, bar, kInk);
    for (int percent = 0; percent <= 100; percent += 20)
      draw_palette_figure(out, {bar.min.x + kBarWidthPx * percent / 100, bar.max.y}, std::to_string(percent));
    const Point2 ring{bar.min.x + kMostDotPx, bar.max.y + 30};
    out.element("circle", {{"cx", svg::px(ring.x)},
                           {"cy", svg::px(ring.y)},
                           {"r", svg::px(kMostDotPx)},
                           {"fill", "none"},
                           {"stroke", kInk},
                           {"stroke-width", svg::px(kRingPx)}});
    out.text(ring + Point2{12, 4},
             wording_.say("placement.sheet.dots") + "; " + wording_.say("placement.sheet.zone"),
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

std::string placement_svg(const Language& language, const Site& site, const PlacementAnswer& answer,
                          PlanFraming shown) {
  const Wording wording(language);
  return PlacementSheet(wording, site, answer, shown).draw();
}

}  // namespace linkmargin
