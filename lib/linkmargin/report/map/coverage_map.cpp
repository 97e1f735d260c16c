#include "linkmargin/report/map/coverage_map.hpp"

#include "linkmargin/base/units.hpp"
#include "linkmargin/report/drawing/palette.hpp"
#include "linkmargin/report/drawing/sheet.hpp"
#include "linkmargin/report/map/coverage_layer.hpp"
#include "linkmargin/report/map/coverage_legend.hpp"
#include "linkmargin/report/plan/map_panel.hpp"
#include "linkmargin/report/plan/plan_legend.hpp"
#include "linkmargin/report/plan/plan_scale.hpp"
#include "linkmargin/report/words/codes/warning_words.hpp"
#include "linkmargin/report/words/coverage_words.hpp"
#include "linkmargin/report/words/phrases.hpp"

#include <algorithm>

namespace linkmargin {
namespace {

class CoverageSheet {
 public:
  CoverageSheet(const Wording& wording, const Site& site, const CoverageMap& map, const LinkTable& table,
                CoverageValue value, PlanFraming shown)
      : wording_(wording),
        site_(site),
        map_(map),
        value_(value),
        scale_(value_scale(map, value)),
        storey_(static_cast<std::size_t>(std::ranges::find(site.storeys, map.storey, &Storey::name) -
                                         site.storeys.begin())),
        panel_(plan::framing(site, map_box(map), shown)),
        sheet_(panel_.sheet_width_px()) {
    marks(table);
  }

  std::string draw() {
    title();
    const plan::FramedPlan plan = panel_.begin(wording_, sheet_);
    const plan::Underlay underlay{
        [&](svg::Writer& out, const plan::Frame& frame) { draw_coverage(out, map_, value_, frame); }, marks_};
    plan::Signs signs;
    const int left_out = plan::draw_framed(wording_, sheet_.body(), site_, storey_, plan, signs, &underlay);
    panel_.end(sheet_, plan);
    const double bar =
        draw_coverage_legend(wording_, sheet_.body(), map_, value_, {Sheet::kMarginPx, sheet_.y() + 16});
    plan::draw_scale_bar(wording_, sheet_.body(), {Sheet::kMarginPx + 8, bar + 32}, panel_.px_per_m());
    sheet_.go_to(plan::draw_legend(wording_, sheet_.body(), signs, {Sheet::kMarginPx, bar + 50},
                                   sheet_.text_width_px()));
    notes(left_out, signs);
    warnings();
    svg::Writer hatches;
    plan::draw_hatches(hatches);
    draw_weak_hatch(hatches);
    return sheet_.svg(std::move(hatches));
  }

 private:
  /// A device's own link: with the hub of the map where there is one alone, else with the one that serves it.
  void marks(const LinkTable& table) {
    for (const Link& link : table.links) {
      if (map_.hubs.size() == 1 ? link.heard_by() != map_.hubs.front().name : !link.serving) continue;
      const LinkBudget& way = link.weaker();
      double shown = 0;
      std::string text;
      switch (value_) {
        case CoverageValue::reading:
          shown = way.reading_percent;
          text = wording_.percent(shown, map_.reading.weak_below_percent);
          break;
        case CoverageValue::level:
          shown = way.level.value;
          text = wording_.number(shown, 0);
          break;
        case CoverageValue::margin:
          shown = way.margin.value;
          text = wording_.number(shown, 0);
          break;
        case CoverageValue::loss:
          shown = link.loss.path_loss_db;
          text = wording_.number(shown, 0);
          break;
        case CoverageValue::chance:
          shown = 100 * link.pass_probability;
          text = wording_.chance_figure(link.pass_probability);
      }
      text += " " + value_unit(value_);
      if (link.weak) text = wording_.say("sign.weak", {{"figure", text}});
      marks_[link.device] = {hex_text(map_colour(scale_.share(shown), threshold_share(map_, value_))), text,
                             link.weak};
    }
  }

  void title() {
    sheet_.write(site_.name, kTitle);
    sheet_.write(wording_.say("coverage.sheet.title", {{"value", value_phrase(wording_, map_, value_)},
                                                       {"profile", wording_.name(map_.profile)},
                                                       {"storey", wording_.name(map_.storey)},
                                                       {"height", wording_.language().length(map_.height_m)},
                                                       {"hubs", hubs_phrase(wording_, map_)}}),
                 kLead);
    sheet_.write(wording_.say("coverage.sheet.lead",
                              {{"frequency", wording_.with_unit(mhz_from_hz(map_.frequency_hz), "MHz")},
                               {"doors", doors_phrase(wording_, map_.doors)},
                               {"weak", weak_phrase()}}),
                 kLead);
    sheet_.write(wording_.say("caution.short.reading_decides"), kLeadBold);
  }

  std::string weak_phrase() const {
    const auto percent = weak_shares(map_, site_).rooms_percent;
    if (!percent) return wording_.say("coverage.no_room");
    return wording_.say(
        site_.storeys[storey_].rooms.empty() ? "coverage.map_weak" : "coverage.rooms_weak",
        {{"share", share_text(wording_, *percent)}, {"threshold", threshold_text(wording_, map_)}});
  }

  void notes(int left_out, const plan::Signs& signs) {
    std::string text;
    const auto say = [&](const std::string& sentence) {
      if (!sentence.empty()) text += (text.empty() ? "" : " ") + sentence;
    };
    if (signs.device || signs.ruled_device) say(wording_.say("coverage.sheet.own_link"));
    if (map_.hubs.size() > 1) say(wording_.say("coverage.sheet.serving_lines"));
    say(nearby_phrase(wording_, map_, value_));
    say(scale_hint(wording_, map_, value_));
    for (const Hub& hub : site_.hubs) say(hub_note(hub));
    const auto serves = [](const CoverageHub& hub) { return !hub.hub.empty(); };
    const bool counted = std::ranges::any_of(map_.hubs, serves);
    if (counted || signs.repeater)
      say(wording_.say(counted ? "coverage.sheet.by_repeaters" : "coverage.sheet.repeaters"));
    if (left_out > 0) say(wording_.counted("sign.left_out", static_cast<std::size_t>(left_out)));
    if (text.empty()) return;
    sheet_.skip(8);
    sheet_.write(text, kSmallPrint);
  }

  /// Of a hub that counts and is not drawn, or is drawn and does not count.
  std::string hub_note(const Hub& hub) const {
    const bool counts = std::ranges::find(map_.hubs, hub.name, &CoverageHub::name) != map_.hubs.end();
    const bool drawn = hub.place.storey == storey_;
    const Language::Place named{"hub", wording_.name(hub.name)};
    if (counts && !drawn) {
      return wording_.say("coverage.sheet.hub_elsewhere",
                          {named, {"storey", wording_.name(site_.storeys[hub.place.storey].name)}});
    }
    return drawn && !counts ? wording_.say("coverage.sheet.hub_unused", {named}) : std::string();
  }

  void warnings() {
    if (map_.warnings.empty()) return;
    sheet_.skip(8);
    sheet_.write(wording_.say("notes.site_cautions"), kNoteBold);
    for (const std::string& warning : warning_texts(wording_.language(), map_.warnings))
      sheet_.write("\u2013 " + warning, {kSmallPrint.font_px, kInk, false});
  }

  const Wording& wording_;
  const Site& site_;
  const CoverageMap& map_;
  CoverageValue value_;
  ValueScale scale_;
  std::size_t storey_;
  plan::MapPanel panel_;
  Sheet sheet_;
  std::map<std::string, plan::DeviceMark> marks_;
};

}  // namespace

std::string coverage_svg(const Language& language, const Site& site, const CoverageMap& map,
                         const LinkTable& table, CoverageValue value, PlanFraming shown) {
  const Wording wording(language);
  return CoverageSheet(wording, site, map, table, value, shown).draw();
}

}  // namespace linkmargin
