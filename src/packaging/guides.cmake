# The manual page and the completion for bash, written by the commands that they tell of.
add_executable(write_guides src/cli/write_guides.cc)
target_link_libraries(write_guides PRIVATE evenleg_cli)

find_program(GZIP_PROGRAM gzip REQUIRED)
set(EVENLEG_GUIDES ${PROJECT_BINARY_DIR}/guides)
file(MAKE_DIRECTORY ${EVENLEG_GUIDES})
add_custom_command(
  OUTPUT ${EVENLEG_GUIDES}/evenleg.1 ${EVENLEG_GUIDES}/evenleg.1.gz ${EVENLEG_GUIDES}/evenleg.bash
  COMMAND write_guides ${EVENLEG_GUIDES}
  COMMAND ${GZIP_PROGRAM} -9nkf ${EVENLEG_GUIDES}/evenleg.1  # -n: no name, no time
  DEPENDS write_guides VERBATIM)
add_custom_target(guides ALL DEPENDS ${EVENLEG_GUIDES}/evenleg.1.gz)
