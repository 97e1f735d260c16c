#include "linkmargin/report/paper/paper_table.hpp"

#include "linkmargin/report/drawing/text_lines.hpp"
#include "linkmargin/report/paper/signs.hpp"

#include <algorithm>

namespace linkmargin::paper {
namespace {

constexpr Lettering kHead{9, kFaintInk, true};
constexpr Lettering kCell{9.5, kInk, false};
constexpr double kColumnGapPx = 8;
constexpr double kSignPx = 16;

class Table {
 public:
  Table(const page::PageModel& content, const std::vector<PaperColumn>& columns)
      : content_(content), columns_(columns) {
    double shares = 0;
    for (const PaperColumn& column : columns) shares += column.share;
    const double width = kTextWidthPx - kSignPx - kColumnGapPx * static_cast<double>(columns.size() - 1);
    double x = kSignPx;
    for (const PaperColumn& column : columns) {
      lefts_.push_back(x);
      widths_.push_back(width * column.share / shares);
      x += widths_.back() + kColumnGapPx;
    }
  }

  Block head() const {
    std::vector<std::string> titles;
    for (const PaperColumn& column : columns_) titles.push_back(column.title);
    return row({titles}, kHead, kInk);
  }

  Block row(const PaperRow& of, const Lettering& lettering = kCell, const char* line = "#dcdfe3") const {
    Block block(kTextWidthPx);
    block.skip(2);
    if (of.standing) draw_standing(block.out(), content_, *of.standing, {0, 2}, 11.5);
    const double top = block.height_px();
    for (std::size_t i = 0; i < columns_.size(); ++i) {
      double y = top;
      for (const std::string& words : lines_within(of.cells[i], lettering, widths_[i])) {
        const double x = columns_[i].figure ? lefts_[i] + widths_[i] : lefts_[i];
        draw_text(block.out(), {x, y + lettering.font_px}, words, lettering,
                  columns_[i].figure ? "end" : "start");
        y += kLineHeight * lettering.font_px;
      }
      block.reach(y);
    }
    block.skip(2);
    draw_line(block.out(), {0, block.height_px()}, {kTextWidthPx, block.height_px()}, line, "0.8");
    return block;
  }

 private:
  const page::PageModel& content_;
  const std::vector<PaperColumn>& columns_;
  std::vector<double> lefts_, widths_;
};

}  // namespace

void add_table(PageFlow& flow, const page::PageModel& content, const std::vector<PaperColumn>& columns,
               const std::vector<PaperRow>& rows) {
  const Table table(content, columns);
  const Block head = table.head();
  bool first = true;
  for (const PaperRow& of : rows) {
    const Block row = table.row(of);
    if (first || row.height_px() > flow.room_px()) {
      // The head goes where the row below it goes.
      Block both(kTextWidthPx);
      both.put(head, {0, 0});
      both.put(row, {0, head.height_px()});
      flow.add(both);
    } else {
      flow.add(row);
    }
    first = false;
  }
}

}  // namespace linkmargin::paper
