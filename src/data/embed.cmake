# Builds the files of data/ into the program, byte for byte: evenleg_embed(OUT file.toml ...) sets OUT
# to the sources made. An edit of a data file rebuilds.
function(evenleg_embed out)
  set(sources)
  foreach(NAME ${ARGN})
    string(MAKE_C_IDENTIFIER "${NAME}" stem)
    set(SYMBOL "k_${stem}")
    file(READ "${PROJECT_SOURCE_DIR}/data/${NAME}" TEXT)
    set(made "${PROJECT_BINARY_DIR}/embedded/${stem}.cc")
    configure_file("${PROJECT_SOURCE_DIR}/src/data/embed.cc.in" "${made}" @ONLY)
    set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS
      "${PROJECT_SOURCE_DIR}/data/${NAME}")
    list(APPEND sources "${made}")
  endforeach()
  set(${out} ${sources} PARENT_SCOPE)
endfunction()
