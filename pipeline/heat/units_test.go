package heat_test

import (
	"fmt"

	"saltpan/pipeline/quantity"
)

func q(c float64) quantity.Temperature { return quantity.Celsius(c) }
func hPa(v float64) quantity.Pressure  { return quantity.Pressure(v) }
func ms(v float64) quantity.Speed      { return quantity.Speed(v) }

func label(row int, what string) string { return fmt.Sprintf("PH-%02d %s", row, what) }
