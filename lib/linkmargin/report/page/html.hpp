#pragma once

#include <initializer_list>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

// Inside report/ only: a writer of HTML elements.
namespace linkmargin::html {

/// A name that somebody else chose, to be put into a text: control characters replaced, and set apart so that
/// its direction of writing stays its own. text() makes a `bdi` element of it.
std::string name(std::string_view chosen);

/// The same text without what name() put about names, for attributes and for SVG.
std::string plain(std::string_view text);

/// Collects elements. Texts and values of attributes are escaped.
class Writer {
 public:
  using Attributes = std::initializer_list<std::pair<std::string_view, std::string>>;

  /// An attribute without a value is written by its name alone; one without a name, and a class without a
  /// value, is left out.
  void open(std::string_view tag, Attributes attributes = {});
  void close();  ///< the element opened last
  void text(std::string_view words);
  void element(std::string_view tag, Attributes attributes, std::string_view words);
  void element(std::string_view tag, std::string_view words) { element(tag, {}, words); }

  /// One that has no content, such as `meta`.
  void lone(std::string_view tag, Attributes attributes);

  /// Markup of our own, as it is.
  void markup(std::string_view ready) { text_ += ready; }

  void line() { text_ += '\n'; }

  std::string take() { return std::move(text_); }

 private:
  void begin(std::string_view tag, Attributes attributes);
  std::string text_;
  std::vector<std::string> open_;
};

}  // namespace linkmargin::html
