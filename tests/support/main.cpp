// Catch2's own main, compiled once for all test programs (version 3 brings it in a library).
#define CATCH_CONFIG_MAIN
#include "support/catch.hpp"
