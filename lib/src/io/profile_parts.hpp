#pragma once

#include "toml_section.hpp"
#include "twoturn/drive/spec.hpp"

namespace twoturn::reading {

/// Reads every table of a profile but [origin] and [example].
DriveSpec read_drive(Section& top);

PulleySpec read_pulley(Section pulley);
BuildSpec read_build(Section build, const std::vector<HeadSpec>& heads);
std::optional<PinSpec> read_pin(Section& owner);

/// Reads [origin] and [example] and gives every number read so far its origin.
void read_origins(Section& top, const toml::table& tree);

}  // namespace twoturn::reading
