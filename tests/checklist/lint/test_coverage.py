from runner.checklist.lint.coverage import Coverage, coverage, duty_of
from tests.checklist.shipped import edited_check, shipped_airplane, shipped_check


def test_the_duty_of_the_merlow_is_what_its_file_puts_on_the_reserve() -> None:
    """Read off the airplane file by hand: loads of the reserve buses, and shed buses that carry loads."""
    duty = duty_of(shipped_airplane("merlow-ml2"))
    assert set(duty.loads) == {
        *(
            "flood lamps",
            "left attitude gyro",
            "left compass gyro",
            "reserve inverter losses",
            "communication 2",
        ),
        *("navigation 1", "left audio", "fire warning", "gear lamps", "communication 2 display"),
        "fuel quantity supply",
    }
    assert duty.buses == ("left main bus", "right main bus", "avionics bus", "AC bus")
    assert duty.not_run == ()


def test_loads_that_a_check_must_not_run_are_set_apart() -> None:
    """The Tarn's fuel pump and flaps are on the essential bus with no duty in a check."""
    duty = duty_of(shipped_airplane("tarn-qx83"))
    assert duty.not_run == ("standby fuel pump", "flap motor")
    assert not set(duty.not_run) & set(duty.loads)


def test_what_lives_with_the_selector_parked_proves_nothing() -> None:
    """The voltmeter hangs on the battery itself, so the reserve does not wake it."""
    duty = duty_of(shipped_airplane("merlow-ml2"))
    assert "voltmeter supply" not in duty.loads


def test_a_load_is_proved_only_when_every_branch_proves_it() -> None:
    """One of two radio fits leaves the radio out."""
    proof = "        proves: [communication 2, communication 2 display]\n\n      - item: old"
    check = edited_check("merlow-reserve", (proof, "\n      - item: old"))
    covered = coverage(check, shipped_airplane("merlow-ml2"))
    assert covered.unproved == ("communication 2 display",)
    assert covered.share < 1


def test_a_living_part_proves_the_loads_behind_it() -> None:
    """The left microphone needs the second radio and the left audio amplifier; a side tone proves both."""
    edits = (
        ("        proves: [left audio, left microphone]\n", "        proves: left microphone\n"),
        (
            "        proves: [communication 2, communication 2 display]\n\n      - item: old",
            "\n      - item: old",
        ),
    )
    covered = coverage(edited_check("merlow-reserve", *edits), shipped_airplane("merlow-ml2"))
    assert "communication 2" in covered.proved
    assert "left audio" in covered.proved
    assert covered.unproved == ("communication 2 display",)


def test_a_name_that_the_airplane_does_not_have_covers_nothing() -> None:
    """Consistency reports it; coverage goes on without it."""
    check = edited_check("merlow-reserve", ("        proves: flood lamps\n", "        proves: flod lamps\n"))
    assert coverage(check, shipped_airplane("merlow-ml2")).unproved == ("flood lamps",)


def test_a_bus_that_no_item_sees_dead_is_told_apart() -> None:
    """The right gyros are the only loads by which a pilot sees that the main inverter is shed."""
    airplane = shipped_airplane("merlow-ml2")
    whole = coverage(shipped_check("merlow-reserve"), airplane)
    assert (whole.witnessed, whole.unwitnessed) == (duty_of(airplane).buses, ())
    assert (whole.proved, whole.unproved) == (duty_of(airplane).loads, ())
    edit = (
        "          loads: [right attitude gyro, right compass gyro]\n",
        "          loads: communication 1\n",
    )
    blind = coverage(edited_check("merlow-reserve", edit), airplane)
    assert blind.unwitnessed == ("AC bus",)
    assert blind.witnessed == ("left main bus", "right main bus", "avionics bus")


def test_the_share_counts_loads_and_buses() -> None:
    """Three of four loads and one of two buses are four of six."""
    covered = Coverage(("a", "b", "c"), ("d",), ("e",), ("x",), ("y",))
    assert covered.share == 4 / 6
    assert Coverage((), (), (), (), ()).share == 1.0


def test_shipped_checks_cover_everything() -> None:
    """The whole figure, for both airplanes."""
    assert coverage(shipped_check("merlow-reserve"), shipped_airplane("merlow-ml2")).share == 1.0
    assert coverage(shipped_check("tarn-reserve"), shipped_airplane("tarn-qx83")).share == 1.0
