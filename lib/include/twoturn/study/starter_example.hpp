#pragma once

#include "twoturn/study/starter_drive.hpp"

namespace twoturn {

/// Works the example out. Precondition: `no_starter_for` is empty.
StarterAnswer starter_for(const StarterDrive& drive);

}  // namespace twoturn
