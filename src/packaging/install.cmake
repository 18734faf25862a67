# What is installed. tests/package/installed.sh holds the list.
include(GNUInstallDirs)
set(CMAKE_INSTALL_DEFAULT_DIRECTORY_PERMISSIONS  # whatever the umask
  OWNER_READ OWNER_WRITE OWNER_EXECUTE GROUP_READ GROUP_EXECUTE WORLD_READ WORLD_EXECUTE)

# The licence in the form that Debian reads: in the field, an empty line is a dot.
file(READ LICENSE LICENSE_TEXT)
string(REGEX MATCH "Copyright \\(c\\) ([^\n]*)" found "${LICENSE_TEXT}")
set(COPYRIGHT_HOLDERS "${CMAKE_MATCH_1}")
string(FIND "${LICENSE_TEXT}" "Permission is" start)
string(SUBSTRING "${LICENSE_TEXT}" ${start} -1 LICENSE_TEXT)
string(STRIP "${LICENSE_TEXT}" LICENSE_TEXT)
string(REPLACE "\n\n" "\n.\n" LICENSE_TEXT "${LICENSE_TEXT}")
string(REPLACE "\n" "\n " LICENSE_TEXT " ${LICENSE_TEXT}")
configure_file(src/packaging/copyright.in ${PROJECT_BINARY_DIR}/packaging/copyright @ONLY)
set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS LICENSE)

install(TARGETS evenleg RUNTIME DESTINATION ${CMAKE_INSTALL_BINDIR})
install(DIRECTORY data/ DESTINATION ${CMAKE_INSTALL_DATADIR}/evenleg
  PATTERN amselgrund.toml EXCLUDE
  PATTERN coopers-quay-apartment.toml EXCLUDE
  PATTERN fernhill-cottage.toml EXCLUDE)
install(FILES ${EVENLEG_GUIDES}/evenleg.1.gz DESTINATION ${CMAKE_INSTALL_MANDIR}/man1)
install(FILES ${EVENLEG_GUIDES}/evenleg.bash RENAME evenleg
  DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions)
install(FILES README.md ${PROJECT_BINARY_DIR}/packaging/copyright
  DESTINATION ${CMAKE_INSTALL_DOCDIR})
install(
  FILES data/amselgrund.toml data/coopers-quay-apartment.toml data/fernhill-cottage.toml
  DESTINATION ${CMAKE_INSTALL_DOCDIR}/examples)
