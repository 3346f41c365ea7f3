#pragma once

#include "toml_section.hpp"
#include "twoturn/drive/spec.hpp"

namespace twoturn::reading {

/// Reads every table of a profile but [origin] and [example].
DriveSpec read_drive(Section& top);

PulleySpec read_pulley(Section pulley);
BuildSpec read_build(Section build, const std::vector<HeadSpec>& heads);
std::optional<PinSpec> read_pin(Section& owner);
EngineSpec read_engine(Section engine);
SeenSpec read_seen(Section seen);
ValveSpec read_valve(Section valve);
BoltsSpec read_bolts(Section bolts);
AccessHoleSpec read_access_hole(Section hole);
TraySpec read_tray(Section tray);

/// A number, early above 0, or words ("1 late", "2 teeth early", "right"); noted as given.
std::optional<double> read_early_or_late(Reading& reading, const Entry& entry);

/// A file's name without a way to it: nothing but letters, digits, spaces, dots, dashes and
/// underscores, and no leading dot.
bool is_plain_name(std::string_view name);

/// The rows of a measured lift table and whose lift they hold. What is wrong with it goes to the
/// reading, under the table's own name and line.
struct LiftTable {
  std::vector<LiftRow> rows;
  LiftAtPart at = LiftAtPart::valve;
};
std::optional<LiftTable> read_lift_table(const TableText& table, Reading& reading);

/// Reads [origin] and [example] and gives every number read so far its origin.
void read_origins(Section& top, const toml::table& tree);

}  // namespace twoturn::reading
