#include "linkmargin/exchange/geojson/json_tree.hpp"

#include "linkmargin/text/line_counter.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <iterator>
#include <utility>

namespace linkmargin::exchange::json {
namespace {

constexpr std::size_t kMostLevels = 64;
constexpr std::size_t kMostValues = 4'000'000;

/// Walks a text and tells how far it came.
class Place {
 public:
  using iterator_category = std::input_iterator_tag;
  using value_type = char;
  using difference_type = std::ptrdiff_t;
  using pointer = const char*;
  using reference = const char&;

  Place(const char* at, const char** reached) : at_(at), reached_(reached) {}
  reference operator*() const { return *at_; }
  Place& operator++() {
    ++at_;
    if (reached_ != nullptr) *reached_ = at_;
    return *this;
  }
  friend bool operator!=(const Place& left, const Place& right) { return left.at_ != right.at_; }

 private:
  const char* at_;
  const char** reached_;
};

/// Makes the tree of what the parser finds.
class Builder {
 public:
  Builder(std::string_view text, Faults& faults) : text_(text), faults_(faults), reached_(text.data()) {}

  std::optional<Value> build() {
    const bool whole = nlohmann::json::sax_parse(Place(text_.data(), &reached_),
                                                 Place(text_.data() + text_.size(), nullptr), this);
    return whole && faults_.empty() ? std::optional(std::move(root_)) : std::nullopt;
  }

  bool null() { return add({.kind = Value::Kind::null}); }
  bool boolean(bool value) { return add({.kind = Value::Kind::boolean, .number = value ? 1.0 : 0.0}); }
  bool number_integer(std::int64_t value) { return number(static_cast<double>(value)); }
  bool number_unsigned(std::uint64_t value) { return number(static_cast<double>(value)); }
  bool number_float(double value, const std::string&) { return number(value); }
  bool string(std::string& value) { return add({.kind = Value::Kind::text, .text = std::move(value)}); }
  bool binary(std::vector<std::uint8_t>&) { return false; }  // JSON has none
  bool key(std::string& name) {
    name_ = std::move(name);
    return true;
  }
  bool start_object(std::size_t) { return open(Value::Kind::object); }
  bool start_array(std::size_t) { return open(Value::Kind::list); }
  bool end_object() { return close(); }
  bool end_array() { return close(); }

  bool parse_error(std::size_t position, const std::string&, const nlohmann::json::exception&) {
    const std::size_t at = std::min(position > 0 ? position - 1 : 0, text_.size());
    faults_.add(LineCounter(text_).at(at), DiagnosticCode::syntax, "",
                at >= text_.size() ? "the JSON ends too early: it is not whole" : "this is no JSON",
                at >= text_.size() ? "" : "found " + quoted(text_.substr(at, 20), '"'));
    return false;
  }

 private:
  /// A number ends where the next character says so, which was looked at.
  bool number(double value) {
    if (!add({.kind = Value::Kind::number, .number = value})) return false;
    Value& made = open_.empty() ? root_ : open_.back()->items.back();
    if (made.position > 0) --made.position;
    return true;
  }

  bool add(Value value) {
    if (++count_ > kMostValues) {
      faults_.add(LineCounter(text_).at(last_position()), DiagnosticCode::too_large, "",
                  "the file holds more than " + std::to_string(kMostValues) + " values");
      return false;
    }
    value.position = last_position();
    (void)put(std::move(value));
    return true;
  }

  std::size_t last_position() const {
    return static_cast<std::size_t>(std::max<std::ptrdiff_t>(reached_ - text_.data() - 1, 0));
  }

  Value& put(Value value) {
    if (open_.empty()) return root_ = std::move(value);
    Value& parent = *open_.back();
    if (parent.kind == Value::Kind::object) parent.names.push_back(std::move(name_));
    return parent.items.emplace_back(std::move(value));
  }

  bool open(Value::Kind kind) {
    if (open_.size() >= kMostLevels) {
      faults_.add(LineCounter(text_).at(last_position()), DiagnosticCode::too_large, "",
                  "the file nests deeper than " + std::to_string(kMostLevels) + " levels");
      return false;
    }
    // The parents of an open value get no more members until it is closed: it stays where it is.
    open_.push_back(&put({.kind = kind, .position = last_position()}));
    return true;
  }

  bool close() {
    open_.pop_back();
    return true;
  }

  std::string_view text_;
  Faults& faults_;
  const char* reached_;
  Value root_;
  std::vector<Value*> open_;
  std::string name_;
  std::size_t count_ = 0;
};

}  // namespace

const Value* Value::find(std::string_view name) const {
  const auto known = std::ranges::find(names, name);
  return known == names.end() ? nullptr : &items[static_cast<std::size_t>(known - names.begin())];
}

std::string_view Value::text_of(std::string_view name) const {
  const Value* const value = find(name);
  return value != nullptr && value->kind == Kind::text ? std::string_view(value->text) : std::string_view();
}

std::optional<Value> parse(std::string_view text, Faults& faults) {
  return Builder(text, faults).build();
}

}  // namespace linkmargin::exchange::json
