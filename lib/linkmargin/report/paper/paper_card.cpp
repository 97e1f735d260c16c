#include "linkmargin/report/paper/paper_card.hpp"

#include "linkmargin/report/drawing/text_lines.hpp"
#include "linkmargin/report/page/gauge.hpp"
#include "linkmargin/report/page/loss_waterfall.hpp"
#include "linkmargin/report/page/plan.hpp"
#include "linkmargin/report/page/words.hpp"
#include "linkmargin/report/paper/page_flow.hpp"
#include "linkmargin/report/paper/signs.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin::paper {
namespace {

constexpr Lettering kDeviceName{14, kInk, true};
constexpr Lettering kCardText{10, kInk, false};
constexpr Lettering kCardAside{10, kFaintInk, false};
constexpr Lettering kSubtitle{11, kInk, true};
constexpr Lettering kCause{9.5, kInk, false};
constexpr Lettering kNumber{8.5, "#ffffff", true};
constexpr double kPadPx = 9;
constexpr double kCardGapPx = 18;
constexpr double kPathPx = 250;  // the width of the right half
constexpr double kBadgePx = 7;
constexpr const char* kBadge = "#8a2b12";

std::string signed_points(const page::PageModel& content, double points) {
  const std::string size = content.language().number(std::abs(points), 0);
  return (size == "0" ? "" : points < 0 ? "\u2212" : "+") + size;
}

Block words(const page::PageModel& content, const page::DevicePage& entry, double width_px) {
  Block block(width_px);
  draw_standing(block.out(), content, entry.standing, {0, 1}, 15);
  block.write(content.wording().name(entry.device->name), kDeviceName, 22);
  block.skip(2);
  block.write(content.place_text(entry.device->place) + ". " + page::received_words(content, *entry.link),
              kCardAside);
  page::Gauge gauge = page::gauge_of(entry);
  if (entry.before != nullptr && content.review().readings.empty())
    gauge.before = entry.before->told().reading_percent;
  add_gauge(block, content, gauge);
  const auto read = page::reading_words(content, entry);
  block.write(read ? *read : page::outlook_words(content, entry), kCardText);
  if (read) block.write(page::other_spot_words(content, entry), kCardText);
  block.skip(4);
  block.write(page::cause_words(content, entry), kCardText);
  const page::DeviceRemedies remedies = page::device_remedies(content, entry);
  if (remedies.items.empty() && remedies.left_out.empty()) return block;
  block.skip(7);
  block.write(content.say("todo.title"), kSubtitle);
  for (const std::string& reason : remedies.left_out) block.write(reason, kCardAside);
  if (remedies.stop)
    block.write(content.say("card.in_plan", {{"number", std::to_string(*remedies.stop)}}), kCardText);
  std::size_t number = 0;
  for (const page::DeviceRemedies::Item& item : remedies.items) {
    block.skip(3);
    block.write(item.lead.empty() ? item.text : item.lead + " " + item.text,
                {kCardText.font_px, kCardText.colour, false}, 17, std::to_string(++number) + ".");
  }
  return block;
}

/// What takes how much, a line each.
void losses(Block& block, const page::PageModel& content, const std::vector<page::FallStep>& steps) {
  constexpr double figure_px = 46, text_px = 20;
  for (const page::FallStep& step : steps) {
    const bool level =
        step.kind == page::FallStep::Kind::distance || step.kind == page::FallStep::Kind::expected;
    const Lettering lettering{kCause.font_px, kInk, level};
    const double base = block.height_px() + lettering.font_px;
    if (step.number > 0) {
      const Point2 middle{kBadgePx, base - 3.4};
      block.out().element(
          "circle",
          {{"cx", svg::px(middle.x)}, {"cy", svg::px(middle.y)}, {"r", svg::px(kBadgePx)}, {"fill", kBadge}});
      draw_text(block.out(), {middle.x, middle.y + 3}, std::to_string(step.number), kNumber, "middle");
    }
    const double percent = std::clamp(step.to_percent, 0.0, 100.0);
    const std::string figure =
        level ? content.percent_text(percent) + (step.to_percent > 100 ? "+" : "") + "\u00A0%"
              : signed_points(content, step.to_percent - step.from_percent);
    draw_text(block.out(), {block.width_px(), base}, figure, lettering, "end");
    Block text(block.width_px() - text_px - figure_px);
    text.write(step.text, lettering);
    block.put(text, {text_px, block.height_px()});
    block.skip(3);
  }
}

Block path(const page::PageModel& content, const page::DevicePage& entry, double width_px) {
  Block block(width_px);
  const std::vector<page::FallStep> steps = page::fall(content, entry);
  svg::Writer drawing;
  drawing.markup(page::way_drawing(content, entry, steps));
  const double scale = width_px / page::kWaySizePx.x;
  draw_moved(block.out(), drawing, {0, 0}, scale);
  block.skip(scale * page::kWaySizePx.y + 2);
  block.write(content.say("paper.losses"), {kCause.font_px, kFaintInk, false});
  block.skip(3);
  losses(block, content, steps);
  return block;
}

}  // namespace

Block device_card(const page::PageModel& content, const page::DevicePage& entry) {
  Block card(kTextWidthPx);
  const double left_px = kTextWidthPx - kPathPx - kCardGapPx - 2 * kPadPx;
  const Block left = words(content, entry, left_px);
  const Block right = path(content, entry, kPathPx);
  const double height = std::max(left.height_px(), right.height_px()) + 2 * kPadPx;
  card.out().element("rect", {{"width", svg::px(kTextWidthPx)},
                              {"height", svg::px(height)},
                              {"rx", "6"},
                              {"fill", "#ffffff"},
                              {"stroke", "#c9ced4"}});
  card.out().element("rect", {{"width", "5"},
                              {"height", svg::px(height)},
                              {"rx", "2.5"},
                              {"fill", standing_colour(entry.standing)}});
  card.put(left, {kPadPx + 3, kPadPx});
  card.put(right, {kTextWidthPx - kPadPx - kPathPx, kPadPx});
  card.reach(height);
  return card;
}

}  // namespace linkmargin::paper
