#pragma once

#include "linkmargin/geometry/polygon.hpp"

#include <initializer_list>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

// Inside report/ only: a writer of SVG 1.1 elements.
namespace linkmargin::svg {

/// Text made safe between tags and inside quotes.
std::string escaped(std::string_view text);

/// A length or coordinate in pixels, two decimals at most.
std::string px(double value);

/// "x,y x,y ..." as polygons and polylines take it.
std::string points(const std::vector<Point2>& corners);

/// Estimated width of a text in the sans-serif fonts that plans are set in, for a font of one pixel: on the
/// generous side, since DejaVu Sans, by whose widths it goes, is a wide one.
double text_width_em(std::string_view text);

/// Collects elements as SVG, in the order of drawing.
class Writer {
 public:
  using Attributes = std::initializer_list<std::pair<std::string_view, std::string>>;
  /// Shapes keep no tooltips where those would be in the way.
  enum class Tooltips { shown, none };

  explicit Writer(Tooltips tooltips = Tooltips::shown) : tooltips_(tooltips) {}

  void open(std::string_view tag, Attributes attributes = {});
  void close(std::string_view tag);

  /// An element without content, or with a tooltip.
  void element(std::string_view tag, Attributes attributes, std::string_view tooltip = {});

  /// One line of text.
  void text(Point2 at, std::string_view words, Attributes attributes = {});

  void append(const Writer& other) { text_ += other.text_; }

  /// Markup of our own, as it is.
  void markup(std::string_view ready) { text_ += ready; }

  /// The elements as SVG; the writer is empty then.
  std::string take() { return std::exchange(text_, {}); }

 private:
  void begin(std::string_view tag, Attributes attributes);
  void attribute(std::string_view name, std::string_view value);
  Tooltips tooltips_;
  std::string text_;
};

}  // namespace linkmargin::svg
