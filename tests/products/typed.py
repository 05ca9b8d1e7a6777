"""A product as somebody types it, in °F."""


def product(**values: str) -> dict[str, str]:
    return {
        "name": "brown glue",
        "use": "glue",
        "family": "pva",
        "rated_at": "70",
        "doubles_per": "15",
        "lowest": "50",
        "lowest_for_hours": "24",
        "open_minutes": "10",
        "stage_0_name": "out of clamps",
        "stage_0_hours": "1",
        "stage_1_name": "ready to plane",
        "stage_1_hours": "7 days",
        "stage_1_alike": "y",
        "tend_0_key": "scrape",
        "tend_0_at": "30",
        "tend_0_within": "30",
        "tend_0_minutes": "10",
        "missed_needs": "scuff",
        "source": "the label",
        "source_on": "2026-02-03",
        **values,
    }


def varnish(**values: str) -> dict[str, str]:
    """Recoat within 2 h, else wait 72 h and sand."""
    return product(
        **{
            "name": "varnish",
            "use": "finish",
            "family": "varnish",
            "stage_0_name": "dust free",
            "dust_free": "dust free",
            "recoat_0_from": "0",
            "recoat_0_to": "2",
            "recoat_1_from": "72",
            "recoat_1_needs": "sand",
            **values,
        }
    )
