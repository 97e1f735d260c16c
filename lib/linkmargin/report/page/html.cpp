#include "linkmargin/report/page/html.hpp"

#include "linkmargin/text/display_text.hpp"

#include <algorithm>

namespace linkmargin::html {
namespace {

constexpr std::string_view kFirstStrongIsolate = "\u2068";
constexpr std::string_view kPopIsolate = "\u2069";

/// Elements that stand within a line.
bool inline_tag(std::string_view tag) {
  return tag == "a" || tag == "strong" || tag == "span";
}

/// A figure stays with its percent sign.
void append_escaped(std::string& out, std::string_view text) {
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char letter = text[i];
    if (text.substr(i).starts_with(" %")) {
      out += "\u00A0";
      continue;
    }
    switch (letter) {
      case '&':
        out += "&amp;";
        break;
      case '<':
        out += "&lt;";
        break;
      case '>':
        out += "&gt;";
        break;
      case '"':
        out += "&quot;";
        break;
      default:
        out += letter;
    }
  }
}

}  // namespace

std::string name(std::string_view chosen) {
  return std::string(kFirstStrongIsolate) + printable(chosen) + std::string(kPopIsolate);
}

std::string plain(std::string_view text) {
  std::string without;
  for (std::size_t i = 0; i < text.size();) {
    const std::string_view rest = text.substr(i);
    if (rest.starts_with(kFirstStrongIsolate) || rest.starts_with(kPopIsolate)) {
      i += kPopIsolate.size();
    } else {
      without += text[i++];
    }
  }
  return without;
}

void Writer::begin(std::string_view tag, Attributes attributes) {
  text_.append("<").append(tag);
  for (const auto& [name, value] : attributes) {
    if (name.empty() || (name == "class" && value.empty())) continue;
    text_.append(" ").append(name);
    if (value.empty()) continue;
    text_.append("=\"");
    append_escaped(text_, printable_lines(plain(value)));
    text_ += '"';
  }
  text_ += '>';
}

void Writer::open(std::string_view tag, Attributes attributes) {
  begin(tag, attributes);
  open_.emplace_back(tag);
}

void Writer::close() {
  text_.append("</").append(open_.back()).append(inline_tag(open_.back()) ? ">" : ">\n");
  open_.pop_back();
}

void Writer::text(std::string_view words) {
  while (!words.empty()) {
    const std::size_t mark = std::min(words.find(kFirstStrongIsolate), words.find(kPopIsolate));
    append_escaped(text_, printable_lines(words.substr(0, mark)));
    if (mark == words.npos) return;
    text_ += words.substr(mark).starts_with(kPopIsolate) ? "</bdi>" : "<bdi>";
    words.remove_prefix(mark + kPopIsolate.size());
  }
}

void Writer::element(std::string_view tag, Attributes attributes, std::string_view words) {
  begin(tag, attributes);
  text(words);
  text_.append("</").append(tag).append(inline_tag(tag) ? ">" : ">\n");
}

void Writer::lone(std::string_view tag, Attributes attributes) {
  begin(tag, attributes);
  line();
}

}  // namespace linkmargin::html
