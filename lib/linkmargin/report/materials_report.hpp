#pragma once

#include "linkmargin/messages/language.hpp"
#include "linkmargin/report/materials_options.hpp"

namespace linkmargin {

/// The whole table for people: loss straight through at one frequency, spread, source.
Document materials_document(const Language& language, const MaterialTable& table,
                            const MaterialsOptions& options = {});

/// One material in detail: kind, points or properties or layers, loss by angle, source, note.
/// @param name one of the table's
/// @throws DomainError when it is not, or when a layer is not
Document material_document(const Language& language, const MaterialTable& table, const std::string& name,
                           const MaterialsOptions& options = {});

/// One row a material, all of them or the named one.
Table materials_rows(const MaterialTable& table, const MaterialsOptions& options = {},
                     const std::string& name = {});
/// The same as JSON, with the keys of `linkmargin materials --format json`.
std::string materials_json(const Language& language, const MaterialTable& table,
                           const MaterialsOptions& options = {}, const std::string& name = {});

}  // namespace linkmargin
