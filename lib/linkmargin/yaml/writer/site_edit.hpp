#pragma once

#include "linkmargin/base/result.hpp"
#include "linkmargin/site/edit/edit.hpp"
#include "linkmargin/site/warning.hpp"
#include "linkmargin/yaml/site/tables.hpp"

#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace linkmargin {

/// The text of a site file with edits made in it, and nothing else changed: comments, order, quotation marks,
/// line ends and byte-order mark stay, and so does a value that is what the edit asks for, however it is
/// written. A value is replaced where it stands; a key that is missing, and a hub or repeater that is added,
/// is put in as its neighbours are written; a section that is missing is put in behind `hubs` or `radio`.
/// Numbers are written as shortest_text(), plan coordinates as coordinate_text(). Nothing is put before the
/// text.
///
/// A place that was said in words stays so where it can: within its room. Else it is written as figures, and
/// so is what followed from a value that is edited: a level, a height, the middle of an opening.
///
/// The new text is read again and its site compared with edited_site(): what would change anything else is
/// not returned. Each edit reads the text once, so that n edits cost n readings.
/// @param text       the bytes of the file, as parse_site() takes them
/// @param file_name  as the person named it, for the faults
/// @param as_figures  takes the paths of what was said in words and is written as figures; may be nullptr
/// @return the new bytes; or the faults of the file; or those of edited_site(), without line; or one that
/// says what cannot
///         be written into this file: a key of a material that the file does not have, a way of writing that
///         is not understood
Result<std::string> edited_text(std::string_view text, const std::string& file_name,
                                std::span<const Edit> edits, const Tables& tables,
                                std::vector<std::string>* as_figures = nullptr);

/// Tells what edited_text() has written as figures.
Warning written_as_figures(std::vector<std::string> paths);

}  // namespace linkmargin
