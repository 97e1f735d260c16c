#include "linkmargin/yaml/tree/parse_tree.hpp"

#include "linkmargin/text/line_counter.hpp"
#include "linkmargin/text/text_decoding.hpp"
#include "linkmargin/yaml/tree/parser_feed.hpp"
#include "linkmargin/yaml/tree/syntax_fault.hpp"

#include <yaml-cpp/eventhandler.h>
#include <yaml-cpp/yaml.h>

#include <algorithm>
#include <istream>
#include <string_view>
#include <utility>
#include <vector>

namespace linkmargin::yaml {
namespace {

/// Ends the reading at a position of the text.
struct Stop {
  std::size_t position;
  std::string message;
  std::string hint;
};

std::size_t position_of(const YAML::Mark& mark) {
  return mark.pos < 0 ? 0 : static_cast<std::size_t>(mark.pos);
}

/// Whether a null stands at the position; where no value is written, the parser gives that of whatever comes
/// next.
bool null_is_written(std::string_view text, std::size_t position) {
  for (const std::string_view word : {"~", "null", "Null", "NULL"}) {
    if (text.compare(std::min(position, text.size()), word.size(), word) != 0) continue;
    const std::size_t next = text.find_first_not_of(" \t", position + word.size());
    return next == std::string_view::npos ||
           std::string_view("\n#,]}").find(text[next]) != std::string_view::npos;
  }
  return false;
}

/// Builds the tree from the parser's events, so that the parser recurses no deeper than kMaxDepth.
class TreeBuilder : public YAML::EventHandler {
 public:
  TreeBuilder(std::string_view text, ParserFeed& feed, Faults& faults)
      : text_(text), feed_(feed), lines_(text), faults_(faults) {}

  Node take_root() { return std::move(root_); }

  /// Where what the parser could not read to its end begins.
  std::size_t unfinished() const;

  void OnDocumentStart(const YAML::Mark& mark) override;
  void OnDocumentEnd() override {}
  void OnNull(const YAML::Mark& mark, YAML::anchor_t anchor) override;
  void OnAlias(const YAML::Mark& mark, YAML::anchor_t anchor) override;
  void OnScalar(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                const std::string& value) override;
  void OnSequenceStart(const YAML::Mark& mark, const std::string&, YAML::anchor_t anchor,
                       YAML::EmitterStyle::value style) override {
    open(Node::Kind::sequence, mark, anchor, style);
  }
  void OnSequenceEnd() override { close(); }
  void OnMapStart(const YAML::Mark& mark, const std::string&, YAML::anchor_t anchor,
                  YAML::EmitterStyle::value style) override {
    open(Node::Kind::mapping, mark, anchor, style);
  }
  void OnMapEnd() override { close(); }

 private:
  /// A list or map that is not complete yet.
  struct Frame {
    Node node;
    bool at_key = false;    ///< it stands in block style under a key
    bool key_read = false;  ///< of a mapping: the next node is a value
    bool key_bad = false;   ///< and that value has no key to stand under
    std::string key;
    Mark key_mark;
    std::size_t key_begin = kNowhere;
  };

  Node begin(Node::Kind kind, const YAML::Mark& mark, YAML::anchor_t anchor);
  void open(Node::Kind kind, const YAML::Mark& mark, YAML::anchor_t anchor, YAML::EmitterStyle::value style);
  void close();
  void add(Node node, bool at_key);
  void add_to_mapping(Frame& frame, Node node, bool at_key);
  void refuse(std::size_t position, const std::string& what, const std::string& hint);

  std::string_view text_;
  ParserFeed& feed_;
  LineCounter lines_;
  Faults& faults_;
  std::vector<Frame> frames_;
  Node root_;
  std::size_t nodes_ = 0;
  std::size_t refused_ = 0;
  bool started_ = false;
};

std::size_t TreeBuilder::unfinished() const {
  const auto bracket = std::ranges::find_if(frames_, [](const Frame& frame) { return frame.node.flow; });
  return bracket == frames_.end() ? feed_.told() : bracket->node.begin;
}

void TreeBuilder::OnDocumentStart(const YAML::Mark& mark) {
  const std::size_t position = position_of(mark);
  if (!std::exchange(started_, true)) return;
  if (text_.substr(std::min(position, text_.size()), 3) == "---") {
    throw Stop{position, "a second document begins here; a file holds one", "remove the '---'"};
  }
  throw Stop{position, "this does not belong to what stands above it", "check the indentation"};
}

void TreeBuilder::refuse(std::size_t position, const std::string& what, const std::string& hint) {
  const std::size_t end = text_.find_first_of(" \n,]}", position);
  const std::string_view word = text_.substr(position, end == std::string_view::npos ? end : end - position);
  faults_.add(lines_.at(position), DiagnosticCode::syntax, "",
              what + " are not taken in this file, found " + quoted(word), hint);
  if (++refused_ >= kMaxRefused)
    throw Stop{position, "so much is not taken that the rest of the file was not read", ""};
}

Node TreeBuilder::begin(Node::Kind kind, const YAML::Mark& mark, YAML::anchor_t anchor) {
  const std::size_t position = position_of(mark);
  feed_.told(position);
  if (++nodes_ > kMaxNodes) {
    throw Stop{position, "the file holds more than " + std::to_string(kMaxNodes) + " values", ""};
  }
  Node node;
  node.kind = kind;
  node.mark = lines_.at(position);
  node.begin = position;
  const char first = position < text_.size() ? text_[position] : '\0';
  if (anchor != YAML::NullAnchor && kind != Node::Kind::refused) {
    refuse(position, "anchors", "write the value out in each place");
  } else if (first == '!') {
    refuse(position, "tags", "leave it out");
  }
  return node;
}

void TreeBuilder::OnNull(const YAML::Mark& mark, YAML::anchor_t anchor) {
  const std::size_t position = position_of(mark);
  const bool written = anchor != YAML::NullAnchor || null_is_written(text_, position);
  Node node = begin(Node::Kind::nothing, mark, anchor);
  if (!written) node.begin = kNowhere;
  add(std::move(node), !written);
}

void TreeBuilder::OnAlias(const YAML::Mark& mark, YAML::anchor_t anchor) {
  add(begin(Node::Kind::refused, mark, anchor), false);
  refuse(position_of(mark), "aliases", "write the value out in each place");
}

void TreeBuilder::OnScalar(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t anchor,
                           const std::string& value) {
  const std::size_t position = position_of(mark);
  Node node = begin(Node::Kind::scalar, mark, anchor);
  node.quoted = tag == "!" && position < text_.size() && (text_[position] == '"' || text_[position] == '\'');
  if (node.quoted && !quotation_closes(text_, position)) {
    throw Stop{position, "this quotation mark has no partner", ""};
  }
  node.text = value;
  add(std::move(node), false);
}

void TreeBuilder::open(Node::Kind kind, const YAML::Mark& mark, YAML::anchor_t anchor,
                       YAML::EmitterStyle::value style) {
  if (frames_.size() >= kMaxDepth) {
    throw Stop{position_of(mark), "lists and maps nest deeper than " + std::to_string(kMaxDepth) + " levels",
               ""};
  }
  Frame frame;
  frame.node = begin(kind, mark, anchor);
  frame.at_key = style == YAML::EmitterStyle::Block;
  frame.node.flow = !frame.at_key;
  frames_.push_back(std::move(frame));
}

void TreeBuilder::close() {
  Frame frame = std::move(frames_.back());
  frames_.pop_back();
  add(std::move(frame.node), frame.at_key);
}

void TreeBuilder::add(Node node, bool at_key) {
  if (frames_.empty()) {
    root_ = std::move(node);
  } else if (Frame& frame = frames_.back(); frame.node.kind == Node::Kind::sequence) {
    frame.node.items.push_back(std::move(node));
  } else {
    add_to_mapping(frame, std::move(node), at_key);
  }
}

void TreeBuilder::add_to_mapping(Frame& frame, Node node, bool at_key) {
  if (!frame.key_read) {
    frame.key_read = true;
    frame.key_bad = node.kind != Node::Kind::scalar;
    frame.key_mark = node.mark;
    frame.key_begin = node.begin;
    frame.key = std::move(node.text);
    const bool silent = node.kind == Node::Kind::refused;
    if (frame.key_bad && !silent)
      faults_.add(node.mark, DiagnosticCode::wrong_type, "", "a key must be text");
    return;
  }
  frame.key_read = false;
  if (frame.key_bad) return;
  if (at_key) node.mark = frame.key_mark;
  frame.node.entries.push_back({std::move(frame.key), frame.key_mark, frame.key_begin, std::move(node)});
}

Stop too_long(std::size_t position) {
  return {
      position,
      "more than " + std::to_string(kMaxPendingSigns) + " signs of YAML in one pair of brackets or one line",
      "write long lists and maps on lines of their own, without brackets about them all"};
}

void report_stop(const Stop& stop, std::string_view text, Faults& faults) {
  faults.add(LineCounter(text).at(stop.position), DiagnosticCode::syntax, "", stop.message, stop.hint);
}

void report_syntax(const YAML::Exception& error, std::string_view text, Faults& faults) {
  const std::size_t position = error.mark.is_null() ? 0 : position_of(error.mark);
  const bool alias = text.substr(std::min(position, text.size()), 1) == "*";
  if (const auto tab = indenting_tab(text, position)) {
    report_stop({*tab, "a tab indents this line; YAML takes spaces only", "put spaces in its place"}, text,
                faults);
  } else if (alias) {
    report_stop(
        {position, "this is no YAML: " + error.msg, "text that begins with '*' needs quotation marks"}, text,
        faults);
  } else {
    report_stop({position, "this is no YAML: " + error.msg, syntax_hint(error.msg)}, text, faults);
  }
}

void count_in_feet(Node& node) {
  node.length_unit = LengthUnit::foot;
  for (Node& item : node.items) count_in_feet(item);
  for (Entry& entry : node.entries) count_in_feet(entry.value);
}

/// What `units: {length: ft}` says holds for the whole file.
Node with_length_unit(Node root) {
  const Node* units = find(root, "units");
  const Node* length = units == nullptr ? nullptr : find(*units, "length");
  if (length != nullptr && length->text == "ft") count_in_feet(root);
  return root;
}

}  // namespace

std::optional<Node> parse_tree(const std::string& text, Faults& faults) {
  ParserFeed feed(text);
  TreeBuilder builder(text, feed, faults);
  try {
    std::istream stream(&feed);
    YAML::Parser parser(stream);
    while (parser.HandleNextDocument(builder)) {
    }
    if (!feed.cut_off()) return with_length_unit(builder.take_root());
    report_stop(too_long(builder.unfinished()), text, faults);
  } catch (const Stop& stop) {
    report_stop(stop, text, faults);
  } catch (const YAML::Exception& error) {
    if (feed.cut_off()) {
      report_stop(too_long(builder.unfinished()), text, faults);
    } else {
      report_syntax(error, text, faults);
    }
  }
  return {};
}

}  // namespace linkmargin::yaml
