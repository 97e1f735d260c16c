#pragma once

#include "linkmargin/geometry/polygon.hpp"
#include "linkmargin/report/drawing/picture.hpp"

#include <initializer_list>
#include <memory>
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

/// Estimated width of a text in the sans-serif fonts that plans are set in, for a font of one pixel. On the
/// generous side: advance widths of a wide sans-serif face, in classes, from memory.
double text_width_em(std::string_view text);

/// One thing drawn, in the order of drawing.
struct Element {
  enum class Kind { open, close, shape, text };
  Kind kind = Kind::shape;
  std::string tag;
  std::vector<std::pair<std::string, std::string>> attributes;
  std::string words;                              ///< of a text; the tooltip of a shape
  std::shared_ptr<const IndexedPicture> picture;  ///< of an image

  /// Empty where it is not set.
  std::string_view attribute(std::string_view name) const;
};

/// Collects elements; they become SVG by take(), or pixels by a painter.
class Writer {
 public:
  using Attributes = std::initializer_list<std::pair<std::string_view, std::string>>;

  void open(std::string_view tag, Attributes attributes = {});
  void close(std::string_view tag);

  /// An element without content, or with a tooltip.
  void element(std::string_view tag, Attributes attributes, std::string_view tooltip = {});

  /// One line of text.
  void text(Point2 at, std::string_view words, Attributes attributes = {});

  /// A picture stretched over a place.
  void image(const Box2& place, std::shared_ptr<const IndexedPicture> picture);

  void append(Writer other);

  /// Shapes keep none, for where they would be in the way.
  void forget_tooltips();

  const std::vector<Element>& elements() const { return elements_; }

  /// The elements as SVG; the writer is empty then.
  std::string take();

 private:
  Element& add(Element::Kind kind, std::string_view tag, Attributes attributes);
  std::vector<Element> elements_;
};

}  // namespace linkmargin::svg
