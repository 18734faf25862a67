# The modules, lowest first, with every source by name. What each may include is held by
# tests/layering_test.cc.

evenleg_embed(embedded data
  HEADER src/tables/embedded.h TYPE EmbeddedFile FILES
  amselgrund.toml
  conductors.toml
  coopers-quay-apartment.toml
  demand-canadian.toml
  demand-existing.toml
  demand-neutral.toml
  demand-optional.toml
  demand-recorded.toml
  demand-service.toml
  demand-standard.toml
  fernhill-cottage.toml
  flicker.toml
  load-kinds.toml
  motor-starting.toml
  patterns.toml
  rules.toml
  severities.toml
  spectra.toml
  supply-systems.toml
  voltage-drop.toml
  voltage-limits.toml)

evenleg_module(base
  PRIVATE fmt::fmt
  SOURCES
    citation.cc
    error.cc
    files.cc
    format.cc
    markup.cc
    quoted.cc
    text_table.cc
    utf8.cc)

add_library(evenleg_units INTERFACE)
target_link_libraries(evenleg_units INTERFACE evenleg_base)

evenleg_module(house
  USES units
  PRIVATE fmt::fmt
  SOURCES
    cable_builder.cc
    fields.cc
    fields_faults.cc
    house.cc
    load_words.cc
    panel_face.cc
    text_faults.cc
    validate.cc
    validate_cables.cc
    validate_connections.cc
    validate_counts.cc
    validate_dwelling.cc
    validate_fields.cc
    validate_loads.cc
    validate_panels.cc
    validate_records.cc
    validate_spaces.cc
    validate_supply.cc
    vocabulary.cc
    wiring.cc)

evenleg_module(tables
  USES house
  PRIVATE fmt::fmt tomlplusplus::tomlplusplus
  SOURCES
    conductor_names.cc
    conductors.cc
    data_file.cc
    demand_rules.cc
    embedded.cc
    flicker.cc
    load_kinds.cc
    motor_starting.cc
    load_laws.cc
    patterns.cc
    references.cc
    rules.cc
    severities.cc
    spectra.cc
    supply_systems.cc
    tables.cc
    voltage_drop.cc
    voltage_limits.cc)
target_sources(evenleg_tables PRIVATE ${embedded})

evenleg_module(describe
  USES house
  PRIVATE fmt::fmt tomlplusplus::tomlplusplus
  SOURCES
    csv_rows.cc
    notes.cc
    parser_guard.cc
    read_description.cc
    readings_csv.cc
    record_reader.cc
    toml_value.cc
    write_description.cc)

evenleg_module(store
  USES house
  PRIVATE fmt::fmt SQLiteCpp
  SOURCES
    applied_plans.cc
    cells.cc
    check_house_file.cc
    connection.cc
    first_bytes.cc
    fresh_file.cc
    house_file.cc
    read_house.cc
    references.cc
    schema.cc
    versions.cc
    write_house.cc)

evenleg_module(network
  USES tables
  PRIVATE fmt::fmt
  SOURCES
    balance_points.cc
    behaviour.cc
    behaviour_network.cc
    calibrate.cc
    cascade.cc
    collapse.cc
    finish.cc
    harmonics.cc
    load_law.cc
    model.cc
    panel_system.cc
    places.cc
    residual.cc
    solve.cc
    sparse.cc)
target_link_libraries(evenleg_network PUBLIC Eigen3::Eigen)

evenleg_module(audit
  USES network
  PRIVATE fmt::fmt Threads::Threads
  SOURCES
    at_once.cc
    audit.cc
    behaviour.cc
    beyond.cc
    case_proof.cc
    cell.cc
    certify.cc
    cloud.cc
    corners.cc
    credible.cc
    element.cc
    every_choice.cc
    fault_case.cc
    find_disconnect_faults.cc
    find_loads_across.cc
    find_multiwire_faults.cc
    find_neutral_overloads.cc
    find_open_neutral_risks.cc
    find_overloads.cc
    find_supply_faults.cc
    find_voltage_faults.cc
    finding_limits.cc
    finding_words.cc
    findings.cc
    harmonics.cc
    held_form.cc
    linearization.cc
    motor_starts.cc
    narrowing.cc
    nearest_mix.cc
    neutral.cc
    neutral_lengths.cc
    neutral_limit.cc
    neutral_rating.cc
    past_limits.cc
    piece.cc
    place_question.cc
    problem.cc
    ranking.cc
    running.cc
    search.cc
    seen_state.cc
    separation.cc
    usual_breaker.cc
    worst_case.cc
    worst_first.cc)
# Square roots in the inner loops need no errno, so that they can be taken several at once.
target_compile_options(evenleg_audit PRIVATE -fno-math-errno)

evenleg_module(diagnose
  USES network
  PRIVATE fmt::fmt
  SOURCES
    beside.cc
    clues.cc
    clues_of_answers.cc
    clues_of_changes.cc
    clues_of_currents.cc
    clues_of_levels.cc
    clues_of_log.cc
    clues_of_moments.cc
    clues_of_pairs.cc
    clues_of_resistances.cc
    combinations.cc
    diagnose.cc
    estimate.cc
    fit.cc
    intake.cc
    log_analyzer.cc
    log_columns.cc
    log_events.cc
    log_flicker.cc
    log_hours.cc
    log_ohms.cc
    log_rows.cc
    log_time.cc
    log_worst.cc
    missing.cc
    patterns.cc
    probes.cc
    read_network.cc
    read_points.cc
    reading_model.cc
    reading_time.cc
    traps.cc
    usable.cc)

evenleg_module(balance
  USES tables
  PRIVATE fmt::fmt
  SOURCES
    balance.cc
    demand.cc
    demand_amps.cc
    demand_canadian.cc
    demand_items.cc
    demand_limits.cc
    demand_lines.cc
    demand_neutral.cc
    demand_optional.cc
    demand_recorded.cc
    demand_standard.cc
    demand_tables.cc
    demand_work.cc
    house_units.cc
    leg_limits.cc
    leg_loads.cc
    near_point.cc
    panel_room.cc
    place_breakers.cc
    spread_search.cc
    with_plan.cc)

evenleg_module(report
  USES audit balance diagnose
  PRIVATE fmt::fmt nlohmann_json::nlohmann_json
  SOURCES
    audit_as_found.cc
    audit_harmonics.cc
    audit_behaviour.cc
    audit_json.cc
    audit_json_parts.cc
    audit_limits.cc
    kind_limits.cc
    audit_motor_starts.cc
    audit_places.cc
    audit_ranking.cc
    audit_sections.cc
    audit_summary.cc
    audit_text.cc
    audit_words.cc
    balance_json.cc
    balance_legs.cc
    balance_limits.cc
    balance_plans.cc
    balance_schedule.cc
    balance_text.cc
    behaviour_json.cc
    behaviour_text.cc
    cautions.cc
    demand_json.cc
    demand_text.cc
    diagnose_consequence.cc
    diagnose_estimates.cc
    diagnose_json.cc
    diagnose_patterns.cc
    diagnose_text.cc
    log_chart.cc
    log_json.cc
    log_text.cc
    log_words.cc
    neutral_answer.cc
    neutral_curve.cc
    neutral_json.cc
    neutral_text.cc
    source_list.cc)

evenleg_module(drawing
  USES audit balance diagnose
  PRIVATE fmt::fmt
  APART
    canvas.cc
    legs.cc
    multiwire.cc
    neutral_ohms.cc
    panel_face.cc
    readings.cc
    service_wires.cc
    volts_spans.cc)

evenleg_module(record
  USES report drawing
  PRIVATE fmt::fmt nlohmann_json::nlohmann_json PkgConfig::xlsxwriter
  SOURCES
    blocks.cc
    cells.cc
    client_sections.cc
    demand_section.cc
    event_sections.cc
    exposure.cc
    finding_sections.cc
    job.cc
    neutral_sections.cc
    page_style.cc
    panel_sections.cc
    plan_sections.cc
    reading_sections.cc
    record.cc
    safety.cc
    shared.cc
    source_sections.cc
    start_section.cc
    text_sheet.cc
    to_csv.cc
    to_html.cc
    to_json.cc
    to_markdown.cc
    to_text.cc
    to_xlsx.cc
    visit_sections.cc
    volts_sections.cc)

evenleg_module(edit
  USES house
  PRIVATE fmt::fmt
  SOURCES
    edit.cc
    edit_values.cc
    name_uses.cc
    pasted_schedule.cc
    remove_uses.cc
    schedule_cells.cc
    unfinished.cc
    units.cc)

include(src/page/web_files.cmake)

evenleg_module(page
  USES record report describe store edit
  PRIVATE fmt::fmt nlohmann_json::nlohmann_json PkgConfig::httplib
  SOURCES
    answers.cc
    background_audit.cc
    guard.cc
    house_answer.cc
    keys.cc
    moves.cc
    open_house.cc
    page.cc
    place_names.cc
    reasons.cc
    record_answer.cc
    requests.cc
    server.cc
    state_answer.cc
    web_files.cc
    words_answer.cc)
target_sources(evenleg_page PRIVATE ${web_files})

evenleg_module(cli
  USES page record report describe store edit
  PRIVATE fmt::fmt CLI11::CLI11 nlohmann_json::nlohmann_json
  # Not prepared: the command line parser, read ahead, would be compiled again in each source.
  SOURCES
    apply_plan.cc
    added_load.cc
    bash_completion.cc
    cmd_audit.cc
    cmd_balance.cc
    cmd_check.cc
    cmd_demand.cc
    cmd_demo.cc
    cmd_diagnose.cc
    cmd_edit.cc
    cmd_export.cc
    cmd_neutral.cc
    cmd_new.cc
    cmd_open.cc
    cmd_readings.cc
    cmd_report.cc
    cmd_show.cc
    cmd_visit.cc
    command_shape.cc
    command_tree.cc
    help_text.cc
    input.cc
    make_pdf.cc
    man_page.cc
    open_browser.cc
    panel_face.cc
    program.cc
    progress_line.cc
    provenance.cc
    read_log.cc
    readings_table.cc
    run.cc
    schedule_json.cc
    schedule_loads.cc
    schedule_text.cc
    session.cc
    typed_quantity.cc
    usage.cc
    version_text.cc
    visit_answers.cc
    visit_form.cc
    visit_questions.cc
    visit_steps.cc
    visit_summary.cc)
evenleg_build_info(build_info)
target_sources(evenleg_cli PRIVATE ${build_info})

# Words, pages and commands: nothing in them takes time when it runs, but they are half of what is
# compiled. At -O1 g++ 12 takes empty optionals for uninitialized numbers.
foreach(module report drawing record edit page cli)
  target_compile_options(evenleg_${module} PRIVATE
    $<$<CONFIG:Release>:-O1> $<$<AND:$<CONFIG:Release>,$<CXX_COMPILER_ID:GNU>>:-Wno-maybe-uninitialized>)
endforeach()
