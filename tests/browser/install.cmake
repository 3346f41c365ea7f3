# Puts the packages of the browser tests into the build folder, as package-lock.json says; again
# only where that has changed. Called with -D SOURCE_DIR=... -D WORK_DIR=... -D NPM=...
file(MAKE_DIRECTORY ${WORK_DIR})
file(SHA256 ${SOURCE_DIR}/package-lock.json lock)
set(stamp ${WORK_DIR}/installed)
if(EXISTS ${stamp})
  file(READ ${stamp} installed)
  if(installed STREQUAL lock)
    return()
  endif()
endif()
file(REMOVE ${stamp})
file(COPY ${SOURCE_DIR}/package.json ${SOURCE_DIR}/package-lock.json DESTINATION ${WORK_DIR})
# No package runs anything while it is installed; Chromium and Java are the system's.
execute_process(
  COMMAND ${NPM} ci --ignore-scripts --no-audit --no-fund
  WORKING_DIRECTORY ${WORK_DIR}
  COMMAND_ERROR_IS_FATAL ANY)
file(WRITE ${stamp} ${lock})
