package main

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"image/png"
	"io"
	"math"
	"os"
	"os/exec"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"panelyard/parts/arc"
	"panelyard/parts/length"
)

// sheetOf returns what the command knows of an arc with a chord and a rise.
func sheetOf(chord, rise length.Length, stations int) (arcSheet, error) {
	k := arc.Known{Chord: chord, Rise: rise}
	a, err := arc.Solve(k)
	if err != nil {
		return arcSheet{}, err
	}
	off := arc.Errors{Length: length.Millimetre, Angle: arc.Degree}
	effects, err := arc.Effects(k, off)
	x := arcSheet{k, a, off, effects, nil, newMeasures(length.MM)}
	if stations > 0 && !a.Long() {
		var more error
		x.stations, more = a.Stations(stations)
		err = errors.Join(err, more)
	}
	return x, err
}

// A picture is well-formed, and everything in it lies on the page, whatever the arc.
func TestArcPictureOnPage(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		chord := rapid.OneOf(rapid.Int64Range(1, int64(length.Max)), rapid.Int64Range(80_000, 24_000_000)).Draw(t, "chord")
		rise := rapid.OneOf(rapid.Int64Range(1, chord), rapid.Int64Range(1, 1+chord/200), rapid.Int64Range(chord/2, 1+3*chord)).Draw(t, "rise")
		x, err := sheetOf(length.Length(chord), length.Length(rise), rapid.SampledFrom([]int{0, 3, 50}).Draw(t, "stations"))
		if err != nil {
			t.Skip(err)
		}
		var b bytes.Buffer
		x.draw(&b)
		d := xml.NewDecoder(&b)
		for {
			token, err := d.Token()
			if err == io.EOF {
				break
			}
			if err != nil {
				t.Fatal(err)
			}
			e, ok := token.(xml.StartElement)
			if !ok {
				continue
			}
			at := map[string]float64{}
			for _, a := range e.Attr {
				if strings.Contains(a.Value, "NaN") || strings.Contains(a.Value, "Inf") {
					t.Fatalf("%s %s=%q", e.Name.Local, a.Name.Local, a.Value)
				}
				at[a.Name.Local], _ = strconv.ParseFloat(a.Value, 64)
			}
			for _, k := range []string{"x", "x1", "x2", "cx"} {
				if v := at[k]; v < 0 || v > pageW {
					t.Fatalf("%s has %s = %v", e.Name.Local, k, v)
				}
			}
			for _, k := range []string{"y", "y1", "y2", "cy"} {
				if v := at[k]; v < 0 || v > pageH {
					t.Fatalf("%s has %s = %v", e.Name.Local, k, v)
				}
			}
		}
	})
}

// The scale is a tidy one, and no larger than it needs to be.
func TestTidyScale(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		least := math.Pow(10, rapid.Float64Range(-8, 8).Draw(t, "exponent"))
		got := tidy(least)
		if got < least || got > 2.01*least {
			t.Fatalf("tidy(%v) = %v", least, got)
		}
		s := strconv.FormatFloat(got, 'e', 6, 64)
		if m := s[:strings.Index(s, "e")]; m != "1.000000" && m != "2.000000" && m != "2.500000" && m != "5.000000" {
			t.Fatalf("tidy(%v) = %v", least, got)
		}
	})
}

// The arc that a drawing program shows is the circle through the ends of the chord
// and the top of the rise: its pixels are dark there. The reference is librsvg.
func TestArcPictureRendered(t *testing.T) {
	tool, err := exec.LookPath("rsvg-convert")
	if err != nil { // as partstest.Need, whose flag -update is this package's as well
		if os.Getenv("PANELYARD_NEED_TOOLS") != "" {
			t.Fatalf("rsvg-convert is needed: %v", err)
		}
		t.Skipf("rsvg-convert is not installed: %v", err)
	}
	const dots = 6.0 // a mm of paper
	for _, c := range []struct{ chord, rise length.Length }{
		{600, 50}, {1000, 2}, {2400, 300}, {200, 100}, {200, 137}, {20, 400}, {30_000, 1}, {5, 2},
	} {
		t.Run(fmt.Sprintf("%dx%d", c.chord, c.rise), func(t *testing.T) {
			x, err := sheetOf(c.chord*length.Millimetre, c.rise*length.Millimetre, 0)
			if err != nil {
				t.Fatal(err)
			}
			var svg, out bytes.Buffer
			x.draw(&svg)
			cmd := exec.Command(tool, "-w", fmt.Sprint(pageW*dots), "-h", fmt.Sprint(pageH*dots))
			cmd.Stdin, cmd.Stdout = bytes.NewReader(svg.Bytes()), &out
			if err := cmd.Run(); err != nil {
				t.Fatal(err)
			}
			img, err := png.Decode(&out)
			if err != nil {
				t.Fatal(err)
			}
			// Scale and place are those the picture prints and draws.
			scale := printedScale(t, svg.String())
			var left, y0 float64
			path := regexp.MustCompile(`<path d="M([\d.]+) ([\d.]+)`).FindStringSubmatch(svg.String())
			if path == nil {
				t.Fatal("no arc in the picture")
			}
			left, _ = strconv.ParseFloat(path[1], 64)
			y0, _ = strconv.ParseFloat(path[2], 64)
			half, h := float64(c.chord)/2/scale, float64(c.rise)/scale
			r := half*half/(2*h) + h/2
			t0 := 2 * math.Atan2(h, half)
			for i := range 41 {
				phi := t0 * (float64(i)/20 - 1)
				px := left + half + r*math.Sin(phi)
				py := y0 - h + 2*r*math.Sin(phi/2)*math.Sin(phi/2)
				v, _, _, _ := img.At(int(px*dots), int(py*dots)).RGBA()
				if v > 0x6000 {
					t.Errorf("no ink at %.2f, %.2f mm, %.1f degrees from the top", px, py, phi*180/math.Pi)
				}
			}
		})
	}
}

// printedScale returns the scale a picture prints, in mm of the arc a mm of paper.
func printedScale(t *testing.T, svg string) float64 {
	t.Helper()
	m := regexp.MustCompile(`scale ([\d.e+]+):([\d.e+]+) on A4`).FindStringSubmatch(svg)
	if m == nil {
		t.Fatal("the picture prints no scale")
	}
	paper, err1 := strconv.ParseFloat(m[1], 64)
	real, err2 := strconv.ParseFloat(m[2], 64)
	if err1 != nil || err2 != nil {
		t.Fatal(err1, err2)
	}
	return real / paper
}

// FuzzArcFlags: whatever stands in the flags, the command ends with a result and
// nothing else, or with findings and no result.
func FuzzArcFlags(f *testing.F) {
	for _, s := range []string{
		"--chord=600|--rise=50|--stations=7", "--chord=600|--radius=925|--long", "--rise=3in|--angle=100|--units=in",
		"--diagonal=27in|--ratio=16:9|--radius=1800R|--body=60", "--width=600|--height=340", "--chord=1/0|--rise=-1",
		"--chord=33554|--rise=0.000125|--error=33554", "--radius=33 m|--angle=359.999999", "--angle=1e9|--chord=", "x", "--help",
		"--chord=0.000125|--angle=0.000001|--angle-error=360", "--diagonal=1,220|--ratio=99999.999x0.001", "--units=in|--chord=4'|--rise=1' 2",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) { runFlags(t, "arc", s) })
}
