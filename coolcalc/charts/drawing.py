"""What all figures share: colours, fonts, and the SVG or PNG that pages and prints show."""

#: Told apart in grey print and by colour-blind eyes: each with a shape of its own.
BLUE, VERMILION, GREY = "#0072B2", "#D55E00", "#595959"
SCHEMA = "https://vega.github.io/schema/vega-lite/v5.json"
FONT = "DejaVu Sans, Verdana, Arial, sans-serif"


def config():
    """Return the settings that all specifications carry."""
    return {
        "font": FONT,
        "axis": {"labelFontSize": 14, "titleFontSize": 15},
        "legend": {"labelFontSize": 15, "symbolSize": 180},
    }


def by_name(names, channel):
    """Return the encoding of things told apart by name: each with a colour and a shape."""
    ranges = {
        "color": [VERMILION, BLUE][-len(names) :],
        "shape": ["circle", "square"][-len(names) :],
    }
    return {
        "field": "what",
        "type": "nominal",
        "title": None,
        "scale": {"domain": names, "range": ranges[channel]},
        "legend": {"orient": "top", "title": None},
    }


def to_svg(spec):
    """Render a specification to SVG text; the first call in a process takes about a second."""
    import vl_convert

    return vl_convert.vegalite_to_svg(spec)


def to_png(spec, scale=1.0):
    """Render a specification to PNG bytes, for where an SVG is not shown.

    In 256 colours: an eighth of the size. With 64 some sources lose their colour.
    """
    import io

    import vl_convert
    from PIL import Image

    full = Image.open(io.BytesIO(vl_convert.vegalite_to_png(spec, scale=scale))).convert("RGB")
    small = io.BytesIO()
    full.quantize(256).save(small, format="PNG", optimize=True)
    return small.getvalue()


def to_image(spec):
    """Render a specification to an HTML image with its description.

    JupyterLab shows it before a run too, and drops the description of a bare PNG.
    """
    import base64
    import html

    text = base64.b64encode(to_png(spec)).decode("ascii")
    words = html.escape(spec["description"], quote=True)
    return f'<img alt="{words}" src="data:image/png;base64,{text}">'
