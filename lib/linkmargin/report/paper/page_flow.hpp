#pragma once

#include "linkmargin/report/paper/block.hpp"

#include <functional>
#include <optional>
#include <string>
#include <vector>

// Inside report/ only: blocks laid on pages.
namespace linkmargin::paper {

/// A4 upright, in pixels of 1/96 inch.
inline constexpr Point2 kPagePx{793.70, 1122.52};
inline constexpr double kMarginPx = 54;
inline constexpr double kFootPx = 60;  ///< the lower margin, with the footer in it
inline constexpr double kTextWidthPx = kPagePx.x - 2 * kMarginPx;
inline constexpr double kTextHeightPx = kPagePx.y - kMarginPx - kFootPx;

/// Pages that are filled from the top, one after another.
class PageFlow {
 public:
  /// A block as wide as the text, where the page has no room for it on the next one. What is higher than a
  /// page is made smaller.
  void add(const Block& block);

  /// A heading; it stays with the block that follows.
  void heading(Block block) { heading_ = std::move(block); }

  /// White above the next block, but not at the head of a page.
  void gap(double height_px) { gap_px_ = std::max(gap_px_, height_px); }

  /// A text that may go on on the next page, line by line.
  void write(const std::string& text, const Lettering& lettering, double indent_px = 0,
             const std::string& mark = {});

  /// What is left of the page below the next gap.
  double room_px() const;

  /// Whether the next block begins a page.
  bool at_head() const { return y_ == 0; }

  /// The pages as SVGs. @param definitions  patterns and styles that they refer to
  /// @param footer  to the left, and to the right by the number of the page and of all
  std::vector<std::string> take(
      const std::string& definitions, const std::string& footer,
      const std::function<std::string(std::size_t number, std::size_t all)>& numbering);

 private:
  void new_page();
  void lay(const Block& block);

  std::vector<svg::Writer> pages_{1};
  double y_ = 0;  // below the upper margin
  double gap_px_ = 0;
  std::optional<Block> heading_;
};

}  // namespace linkmargin::paper
