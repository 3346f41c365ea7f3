# Built by emscripten, for a browser. The libraries that are used are headers alone; they are taken
# out of this system's folder one by one, since all of it would bring this system's own C library.
set(headers ${CMAKE_CURRENT_BINARY_DIR}/headers)
file(MAKE_DIRECTORY ${headers})
foreach(header IN ITEMS boost/version.hpp fmt/format.h toml++/toml.h nlohmann/json.hpp CLI/CLI.hpp
    kainjow/mustache.hpp fast_float/fast_float.h Eigen/Core
    unsupported/Eigen/FFT)
  string(REGEX REPLACE "/.*" "" folder ${header})
  find_path(place ${header} PATHS /usr/include /usr/include/eigen3
    NO_DEFAULT_PATH NO_CMAKE_FIND_ROOT_PATH NO_CACHE REQUIRED)
  if(NOT EXISTS ${headers}/${folder})
    file(CREATE_LINK ${place}/${folder} ${headers}/${folder} SYMBOLIC)
  endif()
  unset(place)
endforeach()
foreach(library IN ITEMS Boost::headers Eigen3::Eigen fmt::fmt tomlplusplus::tomlplusplus
    nlohmann_json::nlohmann_json CLI11::CLI11)
  add_library(${library} INTERFACE IMPORTED GLOBAL)
  target_include_directories(${library} SYSTEM INTERFACE ${headers})
endforeach()
target_compile_definitions(fmt::fmt INTERFACE FMT_HEADER_ONLY)
set(TWOTURN_FAST_FLOAT_INCLUDE_DIR ${headers})
set(TWOTURN_MUSTACHE_INCLUDE_DIR ${headers})
