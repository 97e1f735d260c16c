#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace linkmargin {

/// What kind of fault it is. Programs go by the code, never by the text: texts may be reworded.
enum class DiagnosticCode {
  other,             ///< any that is not below
  unreadable_file,   ///< it does not exist, is a directory or may not be read
  syntax,            ///< the file is no YAML or CSV, or not in an encoding that is read
  too_large,         ///< the file, or what it asks for, is over a limit of the program
  unknown_key,       ///< also a column of readings
  missing_key,       ///< also a column or field of readings
  given_twice,       ///< a key, a name or a value
  conflicting_keys,  ///< keys that exclude each other, or one without the one that it goes with
  wrong_type,        ///< text for a number, a list for a map, a fraction for a whole number
  outside_range,
  wrong_count,      ///< too few or too many items of a list or map
  bad_name,         ///< a name that no thing may have
  unknown_name,     ///< of a thing that the site or a table does not have
  unknown_word,     ///< a word that is none of a closed set
  overlaps,         ///< two things in one place
  misplaced,        ///< a thing where it cannot be
  impossible,       ///< values that contradict each other or physics
  unreachable,      ///< a path of an edit that leads to nothing that may be set
  unwritable_edit,  ///< the file is in a form that cannot take the edit
  not_listed,       ///< says how many more faults there are
};

/// The code as it is printed: "unknown_key".
std::string_view code_word(DiagnosticCode code);

/// One fault in something that a person wrote.
struct Diagnostic {
  std::string file;     ///< as the person named it; empty when the fault is not in a file
  int line = 0;         ///< from 1; 0 when unknown
  int column = 0;       ///< from 1; 0 when unknown
  std::string path;     ///< JSON Pointer (RFC 6901) of the place: "/storeys/ground/height_m"
  std::string message;  ///< what is wrong, with the offending text in it
  std::string hint;     ///< what may have been meant; may be empty
  DiagnosticCode code = DiagnosticCode::other;
  bool lists_names = false;          ///< the hint lists all known names, which a file is told only once
  std::vector<std::string> names{};  ///< of the things of the site that the message is about

  friend bool operator==(const Diagnostic&, const Diagnostic&) = default;
};

/// All faults of something that a person wrote, in the order of its lines.
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
