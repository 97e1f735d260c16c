#pragma once

#include "linkmargin/report/drawing/sheet.hpp"

#include <algorithm>
#include <string>

// Inside report/ only: what is set together on paper.
namespace linkmargin::paper {

/// A part of a page that stays in one piece, drawn from its upper left corner and filled from the top.
class Block {
 public:
  explicit Block(double width_px) : width_px_(width_px) {}

  double width_px() const { return width_px_; }
  double height_px() const { return height_px_; }

  /// What is drawn, in the order of drawing.
  svg::Writer& out() { return out_; }
  const svg::Writer& drawn() const { return out_; }

  void skip(double height_px) { height_px_ += height_px; }
  void reach(double y) { height_px_ = std::max(height_px_, y); }  ///< down to there at least

  /// Sets a text in lines over the whole width, or from an indent on. @param mark  before its first line
  void write(const std::string& text, const Lettering& lettering, double indent_px = 0,
             const std::string& mark = {});

  /// Another block over this one. It is as high as both then.
  void put(const Block& other, Point2 at);

 private:
  double width_px_;
  double height_px_ = 0;
  svg::Writer out_;
};

/// Between the lines of a text, in sizes of its letters.
inline constexpr double kLineHeight = 1.32;

/// One line of a text at its base line.
void draw_text(svg::Writer& out, Point2 at, const std::string& line, const Lettering& lettering,
               const char* align = "start");

/// What was drawn, moved.
void draw_moved(svg::Writer& out, const svg::Writer& drawn, Point2 by, double scale = 1);

}  // namespace linkmargin::paper
