#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace linkmargin {

/// One fault in something that a person wrote.
struct Diagnostic {
  std::string file;     ///< as the person named it; empty when the fault is not in a file
  int line = 0;         ///< from 1; 0 when unknown
  int column = 0;       ///< from 1; 0 when unknown
  std::string path;     ///< JSON Pointer (RFC 6901) of the place: "/storeys/ground/height_m"
  std::string message;  ///< what is wrong, with the offending text in it
  std::string hint;     ///< what may have been meant; may be empty

  friend bool operator==(const Diagnostic&, const Diagnostic&) = default;
};

using Diagnostics = std::vector<Diagnostic>;

/// "pottery.yaml:12:9: unknown key 'hight_m' (did you mean 'height_m'?)"; the parts that are unknown are left
/// out.
std::string to_text(const Diagnostic& diagnostic);

/// Escapes one name for use in a JSON Pointer: '~' becomes "~0", '/' becomes "~1".
std::string pointer_token(const std::string& name);

/// The names that a JSON Pointer leads through, unescaped; none for the empty pointer, which is the whole.
/// Nothing when it is no pointer: it does not begin with '/', or a '~' is not followed by 0 or 1 (RFC 6901,
/// section 3).
std::optional<std::vector<std::string>> pointer_names(std::string_view pointer);

}  // namespace linkmargin
