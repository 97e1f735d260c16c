#include "linkmargin/yaml/site/environment_yaml.hpp"

#include "linkmargin/yaml/fields/field_reader.hpp"

namespace linkmargin::yaml {

PropagationSettings read_environment(const Cursor& cursor, Faults& faults) {
  ObjectReader reader(cursor, "radio", faults);
  PropagationSettings radio;
  read_fields(reader, radio, {faults});
  reader.finish();
  const bool model_known = reader.sound();
  if (model_known && radio.model != PathLossModel::site_general && find(cursor.node(), "form") != nullptr) {
    reader.fault(DiagnosticCode::conflicting_keys, "form", "goes with model: site_general only");
  }
  if (model_known && radio.model != PathLossModel::multi_wall &&
      find(cursor.node(), "constant_loss_db") != nullptr) {
    reader.fault(DiagnosticCode::conflicting_keys, "constant_loss_db", "goes with model: multi_wall only");
  }
  return radio;
}

Fading read_fading(const Cursor& cursor, Faults& faults) {
  Fading fading;
  if (cursor.node().kind == Node::Kind::scalar) {
    fading.on = read_flag(cursor, faults).value_or(fading.on);
    return fading;
  }
  return read_noun(cursor, "fading", faults, fading);
}

ReadingScale read_reading_scale(const Cursor& cursor, Faults& faults) {
  return read_noun<ReadingScale>(cursor, "reading", faults);
}

}  // namespace linkmargin::yaml
