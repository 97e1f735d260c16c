#include "linkmargin/report/map/coverage_map.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/report/document/rounding.hpp"
#include "linkmargin/report/drawing/palette.hpp"
#include "linkmargin/report/drawing/sheet.hpp"
#include "linkmargin/report/map/coverage_layer.hpp"
#include "linkmargin/report/map/coverage_legend.hpp"
#include "linkmargin/report/plan/map_panel.hpp"
#include "linkmargin/report/plan/plan_legend.hpp"
#include "linkmargin/report/plan/plan_scale.hpp"
#include "linkmargin/report/words/phrases.hpp"
#include "linkmargin/text/display_text.hpp"

#include <algorithm>

namespace linkmargin {
namespace {

class CoverageSheet {
 public:
  CoverageSheet(const Site& site, const CoverageMap& map, const LinkTable& table, CoverageValue value)
      : site_(site),
        map_(map),
        value_(value),
        scale_(value_scale(map, value)),
        storey_(static_cast<std::size_t>(std::ranges::find(site.storeys, map.storey, &Storey::name) -
                                         site.storeys.begin())),
        panel_(map_box(map)),
        sheet_(panel_.sheet_width_px()) {
    marks(table);
  }

  std::string draw() {
    title();
    const plan::Frame frame = panel_.begin(sheet_);
    plan::Underlay underlay{[&](svg::Writer& out) { draw_coverage(out, map_, value_, frame); }, marks_};
    plan::Signs signs;
    const int left_out = plan::draw_storey(sheet_.body(), site_, storey_, frame, signs, &underlay);
    panel_.end(sheet_, frame);
    const double bar = draw_coverage_legend(sheet_.body(), map_, value_, {Sheet::kMarginPx, sheet_.y() + 16});
    plan::draw_scale_bar(sheet_.body(), {Sheet::kMarginPx + 8, bar + 32}, panel_.px_per_m());
    sheet_.go_to(
        plan::draw_legend(sheet_.body(), signs, {Sheet::kMarginPx, bar + 50}, sheet_.text_width_px()));
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

  void title() {
    std::string what = value_phrase(map_, value_);
    what.front() = static_cast<char>(what.front() - 'a' + 'A');
    sheet_.write(site_.name, kTitle);
    sheet_.write(what + " on storey " + quoted_name(map_.storey) + ", " + shortest_text(map_.height_m) +
                     " m over its floor, for a device of the profile " + quoted_name(map_.profile) + "; " +
                     hubs_phrase(map_) + ".",
                 kLead);
    sheet_.write(shortest_text(mhz_from_hz(map_.frequency_hz)) + " MHz, " + doors_phrase(map_.doors) + ". " +
                     weak_phrase(),
                 kLead);
    sheet_.write("An estimate: it never replaces the reading on site.", kLeadBold);
  }

  std::string weak_phrase() const {
    const auto share = weak_shares(map_, site_).rooms_percent;
    if (!share) return "The cells are too wide to say what share of the rooms is weak.";
    return fixed_text(*share, 0) +
           (site_.storeys[storey_].rooms.empty() ? " % of the map" : " % of the rooms") + " is weak: under " +
           shortest_text(map_.reading.weak_below_percent) + " %, or not heard.";
  }

  void notes(int left_out, const plan::Signs& signs) {
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
    if (text.empty()) return;
    sheet_.skip(8);
    sheet_.write(text.substr(1), kSmallPrint);
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

  void warnings() {
    if (map_.warnings.empty()) return;
    sheet_.skip(8);
    sheet_.write("Cautions", kNoteBold);
    for (const std::string& warning : map_.warnings)
      sheet_.write("\u2013 " + warning, {kSmallPrint.font_px, kInk, false});
  }

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

std::string coverage_svg([[maybe_unused]] const Language& language, const Site& site, const CoverageMap& map, const LinkTable& table,
                         CoverageValue value) {
  return CoverageSheet(site, map, table, value).draw();
}

}  // namespace linkmargin
