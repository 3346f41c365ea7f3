# Installs the build in BUILD_DIR below WORK_DIR, then configures, builds and runs the project in
# this folder against what was installed.
set(prefix ${WORK_DIR}/prefix)
set(build ${WORK_DIR}/build)
file(REMOVE_RECURSE ${WORK_DIR})

function(run)
  execute_process(COMMAND ${ARGV} COMMAND_ECHO STDOUT COMMAND_ERROR_IS_FATAL ANY)
endfunction()

run(${CMAKE_COMMAND} --install ${BUILD_DIR} --config ${CONFIG} --prefix ${prefix})
run(${CMAKE_COMMAND} -S ${CMAKE_CURRENT_LIST_DIR} -B ${build} -G ${GENERATOR}
  -D CMAKE_PREFIX_PATH=${prefix} -D CMAKE_BUILD_TYPE=${CONFIG} -D CMAKE_CXX_COMPILER=${CXX}
  -D CMAKE_CXX_FLAGS=${CXX_FLAGS} -D CMAKE_CXX_COMPILER_LAUNCHER=${LAUNCHER}
  -D CMAKE_RUNTIME_OUTPUT_DIRECTORY=${WORK_DIR}/$<1:bin>)
run(${CMAKE_COMMAND} --build ${build} --config ${CONFIG})
run(${WORK_DIR}/bin/consumer)
