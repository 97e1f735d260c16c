#include "linkmargin/report/paper/page_flow.hpp"

#include "linkmargin/report/drawing/text_lines.hpp"

#include <algorithm>
#include <utility>

namespace linkmargin::paper {
namespace {

constexpr Lettering kFooter{9.5, kFaintInk, false};
constexpr double kUnderHeadingPx = 6;

}  // namespace

double PageFlow::room_px() const {
  return kTextHeightPx - y_ - (y_ > 0 ? gap_px_ : 0);
}

void PageFlow::new_page() {
  pages_.emplace_back();
  y_ = 0;
}

void PageFlow::lay(const Block& block) {
  if (y_ > 0) y_ += gap_px_;
  gap_px_ = 0;
  const double scale = std::min(1.0, (kTextHeightPx - y_) / std::max(1.0, block.height_px()));
  draw_moved(pages_.back(), block.drawn(), {kMarginPx, kMarginPx + y_}, scale);
  y_ += scale * block.height_px();
}

void PageFlow::add(const Block& block) {
  const double above = heading_ ? heading_->height_px() + kUnderHeadingPx : 0;
  if (y_ > 0 && above + block.height_px() > room_px()) new_page();
  if (heading_) {
    lay(*heading_);
    heading_.reset();
    gap_px_ = kUnderHeadingPx;
  }
  lay(block);
}

void PageFlow::write(const std::string& text, const Lettering& lettering, double indent_px,
                     const std::string& mark) {
  bool first = true;
  for (const std::string& line : lines_within(text, lettering, kTextWidthPx - indent_px)) {
    Block block(kTextWidthPx);
    if (first && !mark.empty()) draw_text(block.out(), {0, lettering.font_px}, mark, lettering);
    draw_text(block.out(), {indent_px, lettering.font_px}, line, lettering);
    block.skip(kLineHeight * lettering.font_px);
    add(block);
    first = false;
  }
}

std::vector<std::string> PageFlow::take(
    const std::string& definitions, const std::string& footer,
    const std::function<std::string(std::size_t number, std::size_t all)>& numbering) {
  const std::string width = svg::px(kPagePx.x), height = svg::px(kPagePx.y);
  std::vector<std::string> texts;
  for (std::size_t i = 0; i < pages_.size(); ++i) {
    svg::Writer out;
    open_svg(out, width, height, "DejaVu Sans, sans-serif");
    out.markup(definitions);
    out.element("rect", {{"width", width}, {"height", height}, {"fill", "#ffffff"}});
    out.append(pages_[i]);
    const double y = kPagePx.y - kFootPx + 26;
    const std::string number = numbering(i + 1, pages_.size());
    const double room = kTextWidthPx - text_width_px(number, kFooter) - 20;
    draw_line(out, {kMarginPx, y - 17}, {kPagePx.x - kMarginPx, y - 18}, "#c9ced4", "1");
    draw_text(out, {kMarginPx, y}, fitted(footer, kFooter, room), kFooter);
    draw_text(out, {kPagePx.x - kMarginPx, y}, number, kFooter, "end");
    out.close("svg");
    texts.push_back(out.take());
  }
  pages_.assign(1, svg::Writer());
  y_ = 0;
  return texts;
}

}  // namespace linkmargin::paper
