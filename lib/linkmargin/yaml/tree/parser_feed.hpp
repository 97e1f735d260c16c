#pragma once

#include <cstddef>
#include <streambuf>
#include <string_view>

namespace linkmargin::yaml {

/// Signs of YAML that the parser may have read and not told of. It looks ahead to the end of a list or map in
/// brackets, or of a line, and keeps up to 400 bytes for each sign on the way.
inline constexpr std::size_t kMaxPendingSigns = 200'000;

/// A text as the parser reads it, piece by piece, cut off where it would keep too much.
class ParserFeed : public std::streambuf {
 public:
  /// @param text  must outlive the feed
  explicit ParserFeed(std::string_view text) : text_(text) {}

  /// The parser has told what stands at this position: what lies before it is kept no longer.
  void told(std::size_t position);

  /// Whether the text was cut off.
  bool cut_off() const { return cut_off_; }

  /// How far the parser has told.
  std::size_t told() const { return told_; }

 protected:
  int_type underflow() override;

 private:
  std::size_t signs(std::size_t begin, std::size_t end) const;

  std::string_view text_;
  std::size_t given_ = 0;  // bytes
  std::size_t told_ = 0;   // bytes
  std::size_t given_signs_ = 0;
  std::size_t told_signs_ = 0;
  bool cut_off_ = false;
};

}  // namespace linkmargin::yaml
