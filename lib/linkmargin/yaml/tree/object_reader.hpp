#pragma once

#include "linkmargin/base/enum_name.hpp"
#include "linkmargin/yaml/tree/values.hpp"

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace linkmargin::yaml {

/// Reads a map with fixed keys. It remembers which keys it was asked for, so that finish() can tell of every
/// key that nobody knows, with the nearest known one, and of every key that is needed and missing. A value
/// that cannot be read becomes a fault and gives a placeholder inside its range. Keys must outlive the
/// reader.
class ObjectReader {
 public:
  /// @param what  as a message names it: "storey 'ground'"; empty at the top of a file
  ObjectReader(const Cursor& self, std::string what, Faults& faults);

  /// The value of a key, or nothing when it is absent.
  std::optional<Cursor> find(std::string_view key);
  /// The same; absent, the key is missing.
  std::optional<Cursor> need(std::string_view key);

  double number(std::string_view key, const Range& range);
  double number_or(std::string_view key, const Range& range, double absent);
  std::optional<double> number_if(std::string_view key, const Range& range);
  int whole_or(std::string_view key, const Range& range, int absent);
  bool flag_or(std::string_view key, bool absent);
  std::string name(std::string_view key);
  std::optional<std::string> name_if(std::string_view key);
  std::string text_or_empty(std::string_view key);

  /// The position of the word of a key among the known ones; nothing when it is absent or none of them.
  std::optional<std::size_t> word_position(std::string_view key, const std::vector<std::string>& known);

  template <typename Meaning>
  Meaning word_or(std::string_view key, std::span<const EnumName<Meaning>> words, Meaning absent) {
    std::vector<std::string> known;
    for (const EnumName<Meaning>& word : words) known.emplace_back(word.word);
    const auto position = word_position(key, known);
    return position ? words[*position].meaning : absent;
  }

  /// Tells when more than one of the keys is there, or, if one is needed, none. The keys still have to be
  /// read.
  void exactly_one_of(const std::vector<std::string_view>& keys);
  void at_most_one_of(const std::vector<std::string_view>& keys);

  /// A fault at the value of a key, or at the whole map when the key is absent. "key: " stands before the
  /// message.
  void fault(DiagnosticCode code, std::string_view key, const std::string& message, std::string hint = {});

  /// Keys that are known elsewhere, and what to say of one that stands here.
  void known_elsewhere(std::vector<std::string_view> keys, std::string hint);

  /// Notes that one of these keys is needed.
  void missing(std::vector<std::string_view> keys, std::string hint = {});

  /// Whether no fault was found since the reader was made: what would only follow from one need not be said.
  bool sound() const { return faults_.count() == faults_before_; }

  void finish();

 private:
  void report_unknown(const Entry& entry, const std::vector<std::string>& known);

  const Cursor& self_;
  std::string what_;
  Faults& faults_;
  std::size_t faults_before_;
  bool is_map_;
  std::vector<std::string_view> known_;
  struct Missing {
    std::vector<std::string_view> keys;  ///< of which one is needed
    std::string hint;
  };
  std::vector<Missing> missing_;
  std::vector<std::string_view> elsewhere_;
  std::string elsewhere_hint_;
  std::vector<std::string> meant_;  ///< known keys that a mistyped one was meant to be
};

/// "device 'hall motion'"
std::string label(std::string_view kind, std::string_view name);

/// The same for an item of a list: by its name, or "item 3 of boundaries".
std::string item_label(std::string_view kind, const Cursor& item);

}  // namespace linkmargin::yaml
