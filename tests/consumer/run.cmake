# Installs the build in BUILD_DIR below WORK_DIR, then configures, builds and runs against what was
# installed the project in this folder and the one that README.md shows under "The library".
set(root ${CMAKE_CURRENT_LIST_DIR}/../..)
set(prefix ${WORK_DIR}/prefix)
set(sample ${WORK_DIR}/sample)
file(REMOVE_RECURSE ${WORK_DIR})

function(run)
  execute_process(COMMAND ${ARGV} COMMAND_ECHO STDOUT COMMAND_ERROR_IS_FATAL ANY)
endfunction()

# build(SOURCE NAME): the project in SOURCE, its program left in WORK_DIR/bin.
function(build source name)
  run(${CMAKE_COMMAND} -S ${source} -B ${WORK_DIR}/build-${name} -G ${GENERATOR}
    -D CMAKE_PREFIX_PATH=${prefix} -D CMAKE_BUILD_TYPE=${CONFIG} -D CMAKE_CXX_COMPILER=${CXX}
    -D CMAKE_CXX_FLAGS=${CXX_FLAGS} -D CMAKE_CXX_COMPILER_LAUNCHER=${LAUNCHER}
    -D CMAKE_RUNTIME_OUTPUT_DIRECTORY=${WORK_DIR}/$<1:bin>)
  run(${CMAKE_COMMAND} --build ${WORK_DIR}/build-${name} --config ${CONFIG})
endfunction()

# written(FIRST_LINE FILE): the README's indented block that begins so, as a file.
function(written first_line file)
  file(READ ${root}/README.md page)
  string(FIND "${page}" "\n## The library\n" at)
  string(SUBSTRING "${page}" ${at} -1 page)
  string(FIND "${page}" "\n    ${first_line}\n" at)
  if(at EQUAL -1)
    message(FATAL_ERROR "README.md shows no block under \"The library\" that begins: ${first_line}")
  endif()
  string(SUBSTRING "${page}" ${at} -1 page)
  string(REGEX MATCH "^(\n    [^\n]*|\n)+" block "${page}")
  string(REPLACE "\n    " "\n" block "${block}")
  file(WRITE ${file} "${block}\n")
endfunction()

# checked(PROFILE CODE WORDS): how the README's program ends on a demo, and what it says.
function(checked profile code words)
  execute_process(COMMAND ${WORK_DIR}/bin/app INPUT_FILE ${root}/profiles/${profile}.toml
    OUTPUT_VARIABLE said RESULT_VARIABLE ended COMMAND_ECHO STDOUT)
  string(FIND "${said}" "${words}" at)
  if(NOT ended STREQUAL code OR at EQUAL -1)
    message(FATAL_ERROR "${profile}: ended with ${ended}, not ${code} and \"${words}\": ${said}")
  endif()
endfunction()

run(${CMAKE_COMMAND} --install ${BUILD_DIR} --config ${CONFIG} --prefix ${prefix})
build(${CMAKE_CURRENT_LIST_DIR} consumer)
run(${WORK_DIR}/bin/consumer)

written("cmake_minimum_required(VERSION 3.25)" ${sample}/CMakeLists.txt)
written("#include <iostream>" ${sample}/main.cpp)
build(${sample} app)
# The verdicts that the scenarios of these demos tell.
checked(cam-bench 0 "agrees")
checked(night-bakery-van 1 "STOP")
