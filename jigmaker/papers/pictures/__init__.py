"""Pictures for the bench, black only, at their natural size on paper: at most 180 mm wide.

A picture is drawn for its own width_mm: shown at that width its letters are 2.5 to 3.5 mm high and its lines 0.25 and
0.5 mm wide. The functions, each in the module of its name without "_picture":

    trestle_picture(trestle)                  the whole trestle standing, hidden lines left out
    jig_on_board_picture(kit, hand)           the jig on the clamped board with router, clamps and feed; hand "R" or "L"
    jig_exploded_picture(kit)                 every piece of the jig off along the way it goes in, with its name
    saw_picture(trestle, how)                 a cut on the saw: how "leg flat", "leg on edge" or "brace end"
    leg_turning_picture(trestle)              how a leg goes to a housing of the other hand
    saw_out_waste_picture(trestle)            the housing's lines on edge and face, and the saw cuts inside them
    first_off_picture(trestle)                a routed scrap, and where its five figures are measured
    levelling_picture(kit)                    the foot block scribing round a foot
    tape_checks_picture(kit)                  where the tapes of the five checks run
    leg_box_picture(kit)                      a leg in the leg box, the saw half way through it
    brace_picture(trestle, is_tilted)         a brace with its angles and lengths, for a saw that tilts or does not
    stock_picture(trestle)                    sections of the timber with the marks of datum face and edge
    sheets_cut_picture(sheets)                the sheets as they are cut, each piece with the number of its name
    router_set_picture(kit)                   plate, scrap and cutter in section, and the projection gauge on the base
    gluing_picture(trestle, kit)              the trestle on its flat reference, and both heads with their screws
    horn_picture(trestle)                     a head with its horn in the board's edge
    press_picture(trestle)                    a leg pressed along its near wall
    leaning_back_picture(kit, use)            the board leaning back until the plate is level, with wedges and jaws
    words_picture(trestle)                    what the words of the papers name

All are the same for the same input, to the last byte; angles on them name what they are off, with the complement.
"""
