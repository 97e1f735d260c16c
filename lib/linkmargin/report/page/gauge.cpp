#include "linkmargin/report/page/gauge.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/base/sure_probability.hpp"
#include "linkmargin/report/drawing/palette.hpp"
#include "linkmargin/report/drawing/sheet.hpp"
#include "linkmargin/report/drawing/svg.hpp"
#include "linkmargin/report/map/coverage_layer.hpp"
#include "linkmargin/report/map/coverage_legend.hpp"
#include "linkmargin/report/page/html.hpp"
#include "linkmargin/report/page/plan.hpp"
#include "linkmargin/report/page/words.hpp"
#include "linkmargin/report/plan/framed_plan.hpp"
#include "linkmargin/report/plan/plan_legend.hpp"

#include <algorithm>
#include <set>

namespace linkmargin::page {
namespace {

/// A shape about a place along the bar.
std::string mark(const std::string& css_class, double percent, const char* path) {
  return "<svg x=\"" + bar_at(percent) +
         "\" y=\"17\" overflow=\"visible\" width=\"1\" height=\"1\"><path class=\"" + css_class + "\" d=\"" +
         path + "\"/></svg>";
}

/// What the maps of a page show.
struct Occurring {
  plan::Signs signs{};
  bool beside = false;  ///< a large plan and a small one
  bool onward = false;  ///< a device that a repeater passes on
};

Occurring occurring(const PageModel& content) {
  const Site& site = content.site();
  const Wording plain(content.language());
  const DoorsReview& review = content.review().states.front();
  Occurring found{.signs = {.map = true}};
  plan::Signs& signs = found.signs;
  svg::Writer unseen(svg::Writer::Tooltips::none);
  std::set<std::size_t> storeys;
  for (const CoverageMap& map : review.maps) {
    const auto named = std::ranges::find(site.storeys, map.storey, &Storey::name);
    const auto storey = static_cast<std::size_t>(named - site.storeys.begin());
    const plan::Frame frame{.world = map_box(map), .origin_px = {}, .labels_px = {}};
    storeys.insert(storey);
    found.beside = found.beside || plan::framing(site, frame.world, content.options().shown).all_beside;
    plan::draw_over_map(plain, unseen, site, storey, frame, signs);
  }
  const auto any = [&](const auto& radios) {
    return std::ranges::any_of(radios, [&](const auto& one) { return storeys.contains(one.place.storey); });
  };
  signs.hub = any(site.hubs);
  signs.repeater = any(site.repeaters);
  signs.planned = any(planned_stations(content));
  for (const DevicePage& entry : content.entries()) {
    if (!storeys.contains(entry.device->place.storey)) continue;
    (site.profiles.at(entry.device->profile).fixed_by_rule ? signs.ruled_device : signs.device) = true;
    signs.weak_device = signs.weak_device || entry.link->weak;
    found.onward = found.onward || entry.link->onward != nullptr;
  }
  return found;
}

/// A line about the middle of its sign.
auto line(const char* width_px, const char* dashes) {
  return [=](svg::Writer& out, Point2 at) {
    out.element("line", {{"x1", svg::px(at.x - 13)},
                         {"y1", svg::px(at.y)},
                         {"x2", svg::px(at.x + 13)},
                         {"y2", svg::px(at.y)},
                         {"stroke", kInk},
                         {"stroke-width", width_px},
                         {"stroke-dasharray", dashes}});
  };
}

void under_needed(svg::Writer& out, Point2 at, double threshold) {
  for (const std::string& fill : {hex_text(map_colour(0, threshold)), std::string("url(#weak)")}) {
    out.element("rect", {{"x", svg::px(at.x - 13)},
                         {"y", svg::px(at.y - 6)},
                         {"width", "26"},
                         {"height", "12"},
                         {"fill", fill},
                         {"stroke", kInk},
                         {"stroke-width", "1.6"}});
  }
}

std::vector<plan::LegendEntry> entries_of(const PageModel& content) {
  const Occurring found = occurring(content);
  std::vector<plan::LegendEntry> entries = plan::legend_entries(Wording(content.language()), found.signs);
  const auto add = [&](const char* key, auto draw) {
    entries.push_back({html::plain(content.say(key, {{"threshold", content.threshold_text()}})), draw});
  };
  const double threshold = content.threshold_percent() / 100;
  add("legend.under_needed", [threshold](svg::Writer& out, Point2 at) { under_needed(out, at, threshold); });
  const Site& site = content.site();
  if (site.hubs.size() + site.repeaters.size() > 1) add("legend.received_elsewhere", line("1", "7 4"));
  if (found.beside) add("legend.shown_large", line("1.4", "5 3"));
  add("legend.way", line("3", "none"));
  if (found.onward) add("legend.way_onward", line("3", kOnwardDashes));
  return entries;
}

}  // namespace

std::string bar_at(double percent) {
  return fixed_text(std::clamp(percent, 0.0, 100.0), 2) + "%";
}

std::string bar_line(const std::string& css_class, double percent, const char* from, const char* to) {
  return "<line class=\"" + css_class + "\" x1=\"" + bar_at(percent) + "\" x2=\"" + bar_at(percent) +
         "\" y1=\"" + from + "\" y2=\"" + to + "\"/>";
}

Gauge gauge_of(const DevicePage& entry) {
  const Link& link = *entry.link;
  Gauge gauge{.percent = link.told().reading_percent, .read_percent = entry.read_percent};
  if (has_range(link)) {
    gauge.low = link.low_percent;
    gauge.high = link.high_percent;
  }
  return gauge;
}

std::string gauge_drawing(const PageModel& content, const Gauge& gauge) {
  std::string text = "<svg class=\"gauge\" width=\"100%\" height=\"46\" role=\"img\" aria-label=\"" +
                     svg::escaped(html::plain(gauge.label)) + "\"><rect class=\"track\" x=\"0\" y=\"12\" " +
                     "width=\"100%\" height=\"10\" rx=\"5\"/>";
  if (gauge.low && gauge.high) {
    text += "<rect class=\"range\" x=\"" + bar_at(*gauge.low) + "\" y=\"12\" width=\"" +
            bar_at(*gauge.high - *gauge.low) + "\" height=\"10\"/>";
  }
  text += bar_line("limit", content.threshold_percent(), "4", "30");
  if (gauge.before) text += mark("was", *gauge.before, "M0 -7 A7 7 0 1 0 0.01 -7 Z");
  text += mark("dot", gauge.percent, "M0 -7 A7 7 0 1 0 0.01 -7 Z");
  if (gauge.read_percent) text += mark("measured", *gauge.read_percent, "M0 -10 L8 0 L0 10 L-8 0 Z");
  const auto figure = [](double percent, const char* align, const std::string& words) {
    return "<text x=\"" + bar_at(percent) + "\" y=\"43\" text-anchor=\"" + align + "\">" + words + "</text>";
  };
  // The ends' figures stand where that of the threshold leaves them room.
  const double threshold = content.threshold_percent();
  if (threshold >= 10) text += figure(0, "start", "0");
  text += figure(threshold, "middle", content.threshold_text() + "\u00A0%");
  if (threshold <= 80) text += figure(100, "end", "100\u00A0%");
  return text + "</svg>\n";
}

std::string scale_drawing(const PageModel& content, CoverageValue value) {
  constexpr double wide = 320, high = 14;
  const bool chance = value == CoverageValue::chance;
  const double needed = chance ? kSureProbability : content.threshold_percent() / 100;
  svg::Writer out;
  draw_palette(out, {{0, 4}, {wide, 4 + high}}, needed);
  for (int percent = 0; percent <= 100; percent += 20) {
    const char* align = percent == 0 ? "start" : percent == 100 ? "end" : "middle";
    out.text({wide * percent / 100, 4 + high + 15},
             std::to_string(percent) + (percent == 100 && !chance ? " %" : ""),
             {{"font-size", "12"}, {"text-anchor", align}, {"fill", "currentColor"}});
  }
  const double limit = wide * needed;
  out.element("line", {{"x1", svg::px(limit)},
                       {"y1", "0"},
                       {"x2", svg::px(limit)},
                       {"y2", svg::px(8 + high)},
                       {"stroke", "currentColor"},
                       {"stroke-width", "2.5"}});
  const std::string label =
      chance ? content.say("plan.scale_chance_label", {{"wanted", content.chance_text(kSureProbability)}})
             : content.say("plan.scale_label", {{"threshold", content.threshold_text()}});
  return "<svg class=\"scale\" viewBox=\"0 0 320 36\" width=\"320\" height=\"36\" role=\"img\" "
         "aria-label=\"" +
         svg::escaped(html::plain(label)) + "\">\n" + out.take() + "</svg>\n";
}

std::vector<std::pair<std::string, std::string>> plan_key(const PageModel& content) {
  std::vector<std::pair<std::string, std::string>> key;
  for (const plan::LegendEntry& entry : entries_of(content)) {
    svg::Writer out(svg::Writer::Tooltips::none);
    entry.draw(out, 0.5 * plan::kLegendSignPx);
    key.emplace_back(
        "<svg class=\"key-sign\" viewBox=\"0 0 30 24\" width=\"30\" height=\"24\" "
        "aria-hidden=\"true\" focusable=\"false\">" +
            out.take() + "</svg>",
        entry.words);
  }
  return key;
}

}  // namespace linkmargin::page
