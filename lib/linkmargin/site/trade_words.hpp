#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace linkmargin {

/// What the tables call a thing that people of the trade write otherwise.
struct TradeWord {
  std::string_view what;  ///< "material", "profile" or, named "wet", "room"
  std::string_view word;
  std::string_view name;
};

/// data/trade-words.csv, in its order.
const std::vector<TradeWord>& trade_words();

/// "did you mean 'X'?", or "did you mean 'X' or 'Y'?": by the words of the trade, else the known name nearest
/// to what was written, else by a word of the trade near to it; only names that are known. Empty: none.
/// @param what  "material", "profile"; of anything else no words are known
std::string name_hint(std::string_view what, std::string_view written, std::span<const std::string> known);

/// Whether a room's name says that it has a bath, a shower or a toilet: "front bathroom", "Gäste-WC". A word
/// of it, or two that follow each other, is a word of the trade.
bool names_wet_room(std::string_view name);

}  // namespace linkmargin
