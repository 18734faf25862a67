# Version, compiler and commit as a source file: evenleg_build_info(OUT). The commit is that of
# configuring; a new one configures again, an edit that is not committed does not.
function(evenleg_build_info out)
  set(COMMIT unknown)
  set(repository "${PROJECT_SOURCE_DIR}/.git")
  find_package(Git QUIET)
  if(GIT_FOUND AND EXISTS "${repository}")
    execute_process(
      COMMAND "${GIT_EXECUTABLE}" -C "${PROJECT_SOURCE_DIR}" rev-parse --short=12 HEAD
      OUTPUT_VARIABLE said OUTPUT_STRIP_TRAILING_WHITESPACE ERROR_QUIET RESULT_VARIABLE status)
    if(status EQUAL 0)
      set(COMMIT "${said}")
    endif()
    if(EXISTS "${repository}/logs/HEAD")
      set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS "${repository}/logs/HEAD")
    endif()
  endif()
  set(made "${PROJECT_BINARY_DIR}/build_info.cc")
  configure_file("${PROJECT_SOURCE_DIR}/src/cli/build_info.cc.in" "${made}" @ONLY)
  set(${out} "${made}" PARENT_SCOPE)
endfunction()
