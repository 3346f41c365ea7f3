#pragma once

#include <string>
#include <vector>

#include "twoturn/drive/spec.hpp"

namespace twoturn {

/// The cautions of a sheet for the bench that do not stand in its order of work.
std::vector<std::string> sheet_cautions(const DriveSpec& spec);

/// Whether the cautions of an engine are due: it has a head, or a camshaft and nobody says that
/// nothing can meet in it.
bool may_be_engine(const DriveSpec& spec);

}  // namespace twoturn
