# The Debian package: `cmake --workflow --preset package`, after `sh .ci/install package`.
set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME evenleg)
set(CPACK_PACKAGE_VENDOR "The evenleg developers")
set(CPACK_PACKAGE_CONTACT "The evenleg developers <evenleg@example.invalid>")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "${PROJECT_DESCRIPTION}")
# CPack puts the summary above, indents, and writes Debian's dot between paragraphs.
set(CPACK_DEBIAN_PACKAGE_DESCRIPTION "\
evenleg tells an electrician or an inspector, from a short written description
of a dwelling, how its service is loaded leg by leg, what each shared neutral
carries, and what every outlet would see if a neutral opened. Split-phase
services, two legs of a wye and three-phase wyes are covered.

It also works out the service load, plans to even the legs, what readings say
about each conductor, and written records. What it prints are estimates from
the description; the local code, the authority having jurisdiction, the utility
and a licensed electrician decide.")
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_STRIP_FILES ON)
set(CPACK_INSTALL_DEFAULT_DIRECTORY_PERMISSIONS ${CMAKE_INSTALL_DEFAULT_DIRECTORY_PERMISSIONS})
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SECTION science)
set(CPACK_DEBIAN_PACKAGE_PRIORITY optional)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
# Only for `evenleg report --out FILE.pdf`; all other forms need nothing.
set(CPACK_DEBIAN_PACKAGE_SUGGESTS weasyprint)
set(CPACK_VERBATIM_VARIABLES ON)
include(CPack)
