namespace Knownwater.Records.Tests;

public class SkeletonTests
{
    [Fact]
    public void Runs() => Assert.Equal(2, 1 + 1);
}
